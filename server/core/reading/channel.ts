/** What is made of one line: temperatures by channel, or the reason why there is none. */
import type { RejectReason } from '../record/event.ts';
import type { Between } from '../record/format.ts';
import type { ElectricUnit } from '../record/sensor.ts';
import type { Entry } from './entry.ts';
import { hasFaultWord } from './words.ts';

/** One temperature of a line. */
export interface Channel {
  /**
   * The label in lower case, blanks single; where there is none the position from `1` among what could be
   * temperatures: times, counters and other quantities are not counted, missing values are. Unique in its line.
   */
  readonly key: string;
  /** As sent, converted to °C; whether it can be believed is for others to judge. */
  readonly valueC: number;
  /** Where the line says that it is no temperature but this: `valueC` is then in this unit until a sensor is said. */
  readonly electric?: ElectricUnit;
}

export type LineReading =
  | {
      readonly ok: true;
      readonly channels: readonly Channel[];
      /** The keys of all places in the line, in order: also of those whose value is missing this time. */
      readonly places: readonly string[];
    }
  | { readonly ok: false; readonly reason: RejectReason };

export function refused(reason: RejectReason): LineReading {
  return { ok: false, reason };
}

/** More values on one line are no thermometer's. Ours. */
export const MOST_VALUES = 48;

/** A line cut into its values, before it is judged which of them are temperatures. */
export type Apart =
  | { readonly ok: true; readonly entries: readonly Entry[]; readonly between: Between }
  | { readonly ok: false; readonly reason: RejectReason };

export function notApart(reason: RejectReason): Apart {
  return { ok: false, reason };
}

/** The reason for a line that could be taken apart or not, but holds no temperature. */
export function whyNoTemperature(line: string): RejectReason {
  if (hasFaultWord(line)) return 'device-fault';
  return /\d/.test(line) ? 'not-a-temperature' : 'no-number';
}
