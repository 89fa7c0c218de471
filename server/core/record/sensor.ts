/** What a number of a thermometer's line is, where it is not the temperature itself: said by a person for each channel, and part of the header. */
import { finite, object, oneOf, type Fields, type Shape, text, union, within } from './shape.ts';

/** What a number is counted in where its line doesn't say. */
export type ResistanceUnit = 'ohm' | 'kohm';
export type EmfUnit = 'mV' | 'uV';
export type ElectricUnit = ResistanceUnit | EmfUnit;

/** The temperature of a thermocouple's cold end: another channel of the same line, by its key, or typed, °C. */
export type ColdEnd =
  { readonly from: 'channel'; readonly channel: string } | { readonly from: 'typed'; readonly tempC: number };

export type Sensor =
  /** A temperature as it is printed. */
  | { readonly kind: 'printed' }
  /** IEC 60751. `ohmsAt0C`: 100 for a Pt100, 1000 for a Pt1000. */
  | { readonly kind: 'platinum'; readonly unit: ResistanceUnit; readonly ohmsAt0C: number }
  | {
      readonly kind: 'steinhart-hart';
      readonly unit: ResistanceUnit;
      readonly a: number;
      readonly b: number;
      readonly c: number;
    }
  | { readonly kind: 'beta'; readonly unit: ResistanceUnit; readonly ohmsAt25C: number; readonly betaK: number }
  | { readonly kind: 'thermocouple'; readonly unit: EmfUnit; readonly type: 'K' | 'T'; readonly cold: ColdEnd };

/** By channel key; absent: as printed. */
export type Sensors = Readonly<Record<string, Sensor>>;

/** Elements are made from 10 to 10,000 Ω at 0 °C, and thermistors from 10 Ω to 10 MΩ at 25 °C; betas lie between these, K (ours, all of them). */
const OHMS_AT_0_C = [10, 10_000] as const;
const OHMS_AT_25_C = [10, 10_000_000] as const;
const BETA_K = [500, 10_000] as const;
/** A cold end is somewhere in the room with the instrument, °C (ours: the range of electronics). */
const COLD_C = [-40, 85] as const;

type SensorOf<K extends Sensor['kind']> = Extract<Sensor, { kind: K }>;

function sensor<K extends Sensor['kind']>(kind: K, fields: Fields<Omit<SensorOf<K>, 'kind'>>): Shape {
  return object({ kind: oneOf([kind]), ...fields });
}

const resistance = oneOf(['ohm', 'kohm'] satisfies ResistanceUnit[]);

const SENSORS: { readonly [K in Sensor['kind']]: Shape } = {
  printed: sensor('printed', {}),
  platinum: sensor('platinum', { unit: resistance, ohmsAt0C: within(...OHMS_AT_0_C) }),
  'steinhart-hart': sensor('steinhart-hart', { unit: resistance, a: finite, b: finite, c: finite }),
  beta: sensor('beta', { unit: resistance, ohmsAt25C: within(...OHMS_AT_25_C), betaK: within(...BETA_K) }),
  thermocouple: sensor('thermocouple', {
    unit: oneOf(['mV', 'uV'] satisfies EmfUnit[]),
    type: oneOf(['K', 'T']),
    cold: union('from', {
      channel: object({ from: oneOf(['channel']), channel: text }),
      typed: object({ from: oneOf(['typed']), tempC: within(...COLD_C) }),
    }),
  }),
};

export const sensorShape: Shape = union('kind', SENSORS);
