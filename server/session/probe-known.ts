/** What is known of a thermometer as it is told to whoever asks: how it was checked, and what each number of its line is taken for. */
import { type Uncertainty, uncertaintyAt, WORK_C } from '../core/check/correction.ts';
import type { LineReading } from '../core/reading/channel.ts';
import { numbersOf } from '../core/reading/numbers.ts';
import { type Recognition, recognise } from '../core/reading/recognition.ts';
import { valuesByRole } from '../core/reading/roles.ts';
import { likelySensor, sensed } from '../core/reading/sensed.ts';
import type { ProbeCheck } from '../core/record/check.ts';
import type { Role } from '../core/record/command.ts';
import type { Probe } from '../core/record/probe.ts';
import type { Correction } from '../core/record/run.ts';
import type { ElectricUnit, Sensor } from '../core/record/sensor.ts';
import type { UsedLag } from '../known/known-probes.ts';
import { isOld } from './check-info.ts';

export interface ProbeKnown {
  readonly lag: UsedLag | null;
  readonly correction: Correction;
  readonly check: ProbeCheck | null;
  /** It was so long ago that it is to be made again. */
  readonly isOld: boolean;
  /** Of a reading at `atC`; null: unchecked. */
  readonly uncertainty: Uncertainty | null;
  readonly atC: number;
  /** The newest line as it came; null before the first. */
  readonly lastLine: string | null;
  readonly numbers: readonly NumberKnown[];
}

/** One number of the newest line. */
export interface NumberKnown {
  /** Of its channel. */
  readonly key: string;
  readonly value: number;
  /** As the line says; null: nothing but a number, or a temperature. */
  readonly unit: ElectricUnit | null;
  /** What was said of it; null: nothing, so it is taken as printed, or where it has such a unit not at all. */
  readonly sensor: Sensor | null;
  /** What it is most likely of, where its unit says that it is no temperature. */
  readonly likely: Sensor | null;
  /** What it makes, °C, not corrected; null: no temperature. */
  readonly valueC: number | null;
  /** What it measures in this line; null: nothing that is used. */
  readonly role: Role | null;
}

/** The newest line, and what the engine had found out of such lines by then. */
export interface Heard {
  readonly line: string | null;
  readonly recognition: Recognition;
}

export function probeKnown(probe: Probe, lag: UsedLag | null, heard: Heard, nowWallMs: number): ProbeKnown {
  const { correction, check = null } = probe;
  return {
    lag,
    correction,
    check,
    isOld: check !== null && isOld(check, nowWallMs),
    uncertainty: check === null ? null : uncertaintyAt(check.points, WORK_C),
    atC: WORK_C,
    lastLine: heard.line,
    numbers: heard.line === null ? [] : numbersKnown(heard.line, heard.recognition, probe),
  };
}

function numbersKnown(
  line: string,
  recognition: Recognition,
  { sensors = {}, roles, decimalComma }: Probe,
): NumberKnown[] {
  const channels = numbersOf(recognition, line, decimalComma);
  const made = sensed({ ok: true, channels, places: channels.map(({ key }) => key) }, sensors);
  const read = readingOf(recognition, line, { roles, decimalComma });
  const used = sensed(read, sensors);
  return channels.map(({ key, valueC, electric = null }) => ({
    key,
    value: valueC,
    unit: electric,
    sensor: Object.hasOwn(sensors, key) ? sensors[key]! : null,
    likely: electric === null ? null : likelySensor(valueC, electric),
    valueC: made.ok ? (made.channels.find((channel) => channel.key === key)?.valueC ?? null) : null,
    role: used.ok ? roleIn(used, key, roles) : null,
  }));
}

/** By the one rule there is: the role whose value comes with this channel alone. */
function roleIn(
  { channels, places }: Extract<LineReading, { ok: true }>,
  key: string,
  roles: Probe['roles'],
): Role | null {
  const own = channels.filter((channel) => channel.key === key);
  return (Object.keys(valuesByRole(own, roles, places)) as Role[])[0] ?? null;
}

/** Of the line as it was read: again, with nothing that changes. */
function readingOf(recognition: Recognition, line: string, said: Pick<Probe, 'roles' | 'decimalComma'>): LineReading {
  return recognise(recognition, line, 0, said).reading;
}
