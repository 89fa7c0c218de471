/** What a check of a probe takes, as the page asks for it and as it is judged: bounds of what may be typed, and how long a probe has to rest. */

/** A trusted thermometer is held in anything between ice and steam, °C (ours), */
export const TRUSTED_C = [-5, 110] as const;
/** and is right within so much, °C: worse is none, and no paper of a thermometer for a kitchen promises better (ours). */
export const TRUSTED_WITHIN_C = [0.01, 1.5] as const;

/** Pressures that air has where people live and cook, hPa (ours: from 5,500 m in a low to below the sea in a high). */
export const STATION_HPA = [480, 1100] as const;
/** and altitudes of such places, m. */
export const ALTITUDE_M = [-430, 5500] as const;

/** So long a probe has to keep to a level, s. Ours: three lags of a slow probe, so that what it has still to go is lost in the spread. */
export const STEADY_S = 60;
/** and in so many readings, however long they take. Ours: one in five seconds. */
export const STEADY_READINGS = 12;
