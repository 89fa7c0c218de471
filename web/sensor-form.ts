/** What somebody typed of a number of the thermometer's line, and the sensor that makes of it. */
import type { NumberKnown } from '../server/core/check/told.ts';
import type { Role } from '../server/core/record/command.ts';
import type { Sensor } from '../server/core/record/sensor.ts';
import { fromUnit, inUnit, marked } from './words/manner.ts';

export const SENSOR_KINDS = ['printed', 'pt100', 'pt1000', 'beta', 'steinhart-hart', 'k', 't'] as const;
export type SensorKind = (typeof SENSOR_KINDS)[number];

/** As it was typed. `cold`: key of the channel that measures the cold end; empty: it is typed. */
export interface SensorTyped {
  readonly kind: SensorKind;
  readonly role: Role;
  readonly inThousands: boolean;
  readonly ohmsAt25C: string;
  readonly betaK: string;
  readonly a: string;
  readonly b: string;
  readonly c: string;
  readonly cold: string;
  readonly coldTemp: string;
}

const USUAL_COLD_C = 22;

/** A form filled with what is known of the number, or else with what it most likely is. */
export function typedOf({ sensor, likely, role, unit }: NumberKnown, isChocolateElsewhere: boolean): SensorTyped {
  const known = sensor ?? likely ?? { kind: 'printed' as const };
  const typed: SensorTyped = {
    kind: kindOf(known),
    role: role ?? (isChocolateElsewhere ? 'ignored' : 'chocolate'),
    inThousands:
      known.kind === 'printed' ? unit === 'kohm' || unit === 'uV' : known.unit === 'kohm' || known.unit === 'uV',
    ohmsAt25C: '10000',
    betaK: '3950',
    a: '',
    b: '',
    c: '',
    cold: '',
    coldTemp: temperature(USUAL_COLD_C),
  };
  switch (known.kind) {
    case 'beta':
      return { ...typed, ohmsAt25C: String(known.ohmsAt25C), betaK: String(known.betaK) };
    case 'steinhart-hart':
      return { ...typed, a: String(known.a), b: String(known.b), c: String(known.c) };
    case 'thermocouple':
      return known.cold.from === 'channel'
        ? { ...typed, cold: known.cold.channel }
        : { ...typed, coldTemp: temperature(known.cold.tempC) };
    default:
      return typed;
  }
}

function temperature(tempC: number): string {
  return marked(String(Math.round(inUnit(tempC) * 10) / 10));
}

function kindOf(sensor: Sensor): SensorKind {
  if (sensor.kind === 'platinum') return sensor.ohmsAt0C === 100 ? 'pt100' : 'pt1000';
  if (sensor.kind === 'thermocouple') return sensor.type === 'K' ? 'k' : 't';
  return sensor.kind;
}

/** null: a number is missing, or is none. Whether it makes sense is the server's to say. */
export function sensorOf(typed: SensorTyped): Sensor | null {
  const unit = typed.inThousands ? 'kohm' : 'ohm';
  switch (typed.kind) {
    case 'printed':
      return { kind: 'printed' };
    case 'pt100':
    case 'pt1000':
      return { kind: 'platinum', unit, ohmsAt0C: typed.kind === 'pt100' ? 100 : 1000 };
    case 'beta': {
      const [ohmsAt25C, betaK] = [numberOf(typed.ohmsAt25C), numberOf(typed.betaK)];
      return ohmsAt25C === null || betaK === null ? null : { kind: 'beta', unit, ohmsAt25C, betaK };
    }
    case 'steinhart-hart': {
      const [a, b, c] = [numberOf(typed.a), numberOf(typed.b), numberOf(typed.c)];
      return a === null || b === null || c === null ? null : { kind: 'steinhart-hart', unit, a, b, c };
    }
    case 'k':
    case 't': {
      const tempIn = numberOf(typed.coldTemp);
      const type = typed.kind === 'k' ? 'K' : 'T';
      const couple = { kind: 'thermocouple', unit: typed.inThousands ? 'uV' : 'mV', type } as const;
      if (typed.cold !== '') return { ...couple, cold: { from: 'channel', channel: typed.cold } };
      return tempIn === null ? null : { ...couple, cold: { from: 'typed', tempC: fromUnit(tempIn) } };
    }
  }
}

function numberOf(text: string): number | null {
  const value = Number(text.trim().replace(',', '.'));
  return text.trim() === '' || !Number.isFinite(value) ? null : value;
}
