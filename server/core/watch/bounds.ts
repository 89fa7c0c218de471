/**
 * Every bound the watch judges by that is not in the profile, with its unit and where it comes from.
 * "ours": a choice of this project, to be corrected by experience; the page says so too.
 */

/** Below the edge a dwell survives this much, °C (contract). */
export const DWELL_SLACK_C = 0.2;
/** However short its dwell, an edge is not reached by one reading: it must stay reached so long, milliseconds. Ours. */
export const CONFIRM_MS = 3_000;
/** and longer with the square of its doubt where that is more than this, °C, one standard deviation. Ours. */
export const CONFIRM_SD_C = 0.1;
/** A gap longer than this starts a dwell anew, milliseconds (contract). */
export const DWELL_GAP_MS = 30_000;
/** The direction has turned once the estimate is this far past the near edge of the phase before, °C (contract). */
export const TURNED_C = 0.5;

/** Alarms clear this far inside the bound, °C: a wider dead band would be half the working window. Ours (domain §7). */
export const DEAD_BAND_C = 0.2;
/** and only after staying there so long, milliseconds. Ours. */
export const OFF_DELAY_MS = 5_000;
/** An estimate this close to a ceiling, or closer than its own uncertainty, counts as over: late is worse than a tenth early. °C; ours. */
export const UNSURE_C = 0.08;
/** How long a bound must be crossed before it is told, milliseconds; nothing for what burns. Ours (domain §7: 3–5 s at most). */
export const ON_DELAY_MS = {
  overshoot: 1_500,
  scorch: 0,
  'temper-lost': 15_000,
  undershoot: 3_000,
  'below-working': 10_000,
  'not-cooled-enough': 10_000,
  ahead: 3_000,
} as const;
/** "Quiet" lasts so long, milliseconds. Ours. */
export const QUIET_MS = 120_000;

/** Silence is an alarm after so many usual intervals, and never sooner than so long. Field notes, table A row 3. */
export const SILENT_INTERVALS = 10;
export const SILENT_MS = 10_000;
/** A thermometer that repeats itself is told like a silent one after so long, milliseconds. Ours. */
export const STUCK_TOLD_MS = 60_000;
/** A number is stale after so many usual intervals, and never sooner than so long. Same source. */
export const STALE_INTERVALS = 3;
export const STALE_MS = 2_000;
/** The probe out of the bowl is an alarm after so long (contract); shorter it only greys the number. */
export const LIFTED_MS = 60_000;
/** A lift shorter than this is not worth an event, milliseconds. Ours. */
export const LIFT_TOLD_MS = 3_000;

/** Begun to cool: fallen so far since the cooling phase was entered, °C. Ours. */
export const FALLEN_C = 1;
/** Turned upward: so far above the lowest point of a cooling phase, °C. Ours: twice the stirring swing of a cold bath. */
export const TURNED_UP_C = 0.6;
/** or so far above it however slowly it rises, °C. Ours. */
export const TURNED_UP_SURELY_C = 1;
/** and warming faster than this, °C/s: 0.15 °C/min. Ours. */
export const TURNED_UP_C_PER_S = 0.15 / 60;
/** A warm top-up lifts the bowl without anyone having rewarmed it: not judged for so long after, milliseconds. Ours. */
export const TOP_UP_MS = 180_000;

/** A cue comes so long before the moment to act, seconds (contract: at least 15). Ours. */
export const CUE_LEAD_S = 20;
/** A cue not acted on within so long has not been heeded (contract), milliseconds. */
export const HEED_MS = 20_000;
/** Acting shows as a rate fallen below this share of the rate at the cue. Ours. */
export const HEEDED_SHARE = 0.6;
/** Slower than this no take-off needs telling, °C/s: 0.2 °C/min coasts 0.13 °C. Ours. */
export const CUE_RATE_C_PER_S = 0.2 / 60;
/** and the rate must stay that fast less this share of its own uncertainty: late by a little, but not for nothing. Ours. */
export const CUE_DOUBT = 0.4;
/** A bowl that surely goes this fast, °C/s (0.03 °C/min), is told of when its bound is nearer than so many seconds, however slow it is. Ours. */
export const CREEP_C_PER_S = 0.03 / 60;
export const CREEP_S = 120;
/** A bowl that goes on slower than this after its cue is told again once it creeps over, °C/s: 0.3 °C/min. Ours. */
export const SLOW_C_PER_S = 0.3 / 60;
/** A creeping bowl must do so surely: its rate less so many standard deviations. Ours: a bowl that coasts slows down, and is not known so well. */
export const CREEP_DOUBT = 1;
/** Where in the band a coast should end, as a share of its width from the near edge. Ours: a little short of the middle. */
export const AIM_SHARE = 0.4;
/** The same while working, where the bowl is warmed for seconds at a time. Ours. */
export const AIM_SHARE_WORKING = 0.6;
/** A take-off reckons with the rate less so many of its standard deviations: a wall multiplies the error of a rate. Ours. */
export const TAKE_OFF_DOUBTS = 1;
/** The same while working: warmed for seconds the rate is never well known, and waiting until it is would be too late. Ours. */
export const TAKE_OFF_DOUBTS_WORKING = 0;
/** An ahead-alarm looks no further than this, seconds. Ours: two minutes is the promise, one and a half is trustworthy. */
export const AHEAD_S = 90;
/** Whatever the bowl, it carries on at least this long, seconds at its present rate: within that, leaving the heat no longer helps. Ours. */
export const SURE_COAST_S = 20;
/** A cue that was not heeded is no alarm yet while the bound is further off than this, seconds, and than this, °C. Ours: hands are slow. */
export const UNHEEDED_AHEAD_S = 60;
export const UNHEEDED_WAY_C = 0.3;
/** No progress for so long means that the band will not be reached like this, milliseconds; and this is no progress, °C/s. Ours. */
export const STALLED_MS = 90_000;
export const STALLED_C_PER_S = 0.1 / 60;
/** A level short of the edge is believed when the rate is known to this share of itself. Ours. */
export const LEVELS_OFF_SURE = 0.25;
/** Standing still further from the edge than this is being stalled, °C. Ours. */
export const STALLED_SHORT_C = 0.3;
/** Under this share of the band's width the working bowl wants warming. Ours. */
export const LOW_SHARE = 0.15;
/** The same cue is not repeated sooner, milliseconds. Ours. */
export const CUE_AGAIN_MS = 60_000;
export const STALLED_AGAIN_MS = 600_000;

/** Unstirred, or at the wall, for so long is told: sooner on the way than while dipping, where hands are elsewhere. Milliseconds; ours. */
export const UNSTIRRED_MS = 20_000;
export const UNSTIRRED_HOLD_MS = 120_000;
export const STIR_AGAIN_MS = 600_000;

/** First strip test: so long after work begins; then about every half hour (the trade's habit; common practice, no source). */
export const FIRST_STRIP_MS = 60_000;
export const STRIP_MS = 1_800_000;

/** Above the ceiling, degrees times seconds that put the temper at risk: 0.2 °C for a minute. Ours; no published rate was found. */
export const RISK_DOSE_C_S = 12;
/** A dose counts no longer gap between estimates than this, seconds: nobody knows what happened in it. Ours. */
export const LONGEST_DOSE_S = 10;
/** In the lower half of the working band for so long the crystals have grown, milliseconds. Ours (domain §2.3: tens of minutes). */
export const LOW_MS = 2_400_000;
/** Without a reading for so long nobody has seen the temper kept, milliseconds. Ours. */
export const UNSEEN_MS = 60_000;
/** How long a dose over the ceiling is remembered, seconds: seed regrows in the band over tens of minutes. Ours. */
export const RISK_MEMORY_S = 1_200;
