/** What a probe is held against: what it should read there, and how far off that itself may be. Half widths of an even distribution, °C. */
import { type Air, airShape } from '../record/check.ts';
import { type Fields, object, oneOf, type Shape, union, within } from '../record/shape.ts';
import { boilingC, standardHpa } from '../sensor/steam.ts';
import { TRUSTED_C, TRUSTED_WITHIN_C } from '../show/checkable.ts';

/** Ice point: air-saturated water and pure ice meet at 0.0 °C (MSL Technical Guide 1, v3). */
const ICE_C = 0;
/** A kitchen's: ice of tap water, not shaved, in a cup (0.1 to 0.2 is common practice, no source). */
const ICE_WITHIN_C = 0.2;

/** Two tips in stirred water, side by side, differ by this, °C. Ours. */
const APART_C = 0.1;

/** Steam over boiling water: drops on the probe, a lid, salts (ours; 5 cm below the surface alone add 0.014 °C). */
const STEAM_WITHIN_C = 0.1;
/** A barometer at the place is right within this, hPa. Ours. */
const BAROMETER_HPA = 2;
/** Where only the altitude is known, the weather is between a low and a high, hPa. Ours: 30 hPa is a wide swing. */
const WEATHER_HPA = 20;

export type Standard =
  | { readonly against: 'ice' }
  /** `trueC`: what the trusted one reads now, °C; `withinC`: how far it may be off, as its papers say. */
  | { readonly against: 'thermometer'; readonly trueC: number; readonly withinC: number }
  | { readonly against: 'steam'; readonly air: Air };

type StandardOf<A extends Standard['against']> = Extract<Standard, { against: A }>;

function standard<A extends Standard['against']>(against: A, fields: Fields<Omit<StandardOf<A>, 'against'>>): Shape {
  return object({ against: oneOf([against]), ...fields });
}

const STANDARD: { readonly [A in Standard['against']]: Shape } = {
  ice: standard('ice', {}),
  thermometer: standard('thermometer', { trueC: within(...TRUSTED_C), withinC: within(...TRUSTED_WITHIN_C) }),
  steam: standard('steam', { air: airShape }),
};
export const standardShape: Shape = union('against', STANDARD);

export interface Reference {
  readonly trueC: number;
  readonly withinC: number;
}

/** Half widths add up at their worst: a standard is the one thing that no minute of reading averages out. */
export function referenceOf(standard: Standard): Reference {
  switch (standard.against) {
    case 'ice':
      return { trueC: ICE_C, withinC: ICE_WITHIN_C };
    case 'thermometer':
      return { trueC: standard.trueC, withinC: standard.withinC + APART_C };
    case 'steam': {
      const { air } = standard;
      const [hpa, aboutHpa] =
        air.by === 'station' ? [air.hpa, BAROMETER_HPA] : [standardHpa(air.altitudeM), WEATHER_HPA];
      const byPressureC = (boilingC(hpa + aboutHpa) - boilingC(hpa - aboutHpa)) / 2;
      return { trueC: boilingC(hpa), withinC: STEAM_WITHIN_C + byPressureC };
    }
  }
}
