/** Everything that can happen to the engine. All but `tick` are recorded; their order is the trace. */
import type { Command } from './command.ts';

/** Temperatures by role, °C; null where the thermometer gave none. */
export interface ValuesC {
  readonly chocolate?: number | null;
  readonly bath?: number | null;
  readonly room?: number | null;
}

/** `atMs`: whole milliseconds of the feed's one monotonic clock. `source`: which thermometer, file or person it came from. */
export type Input =
  /** A raw line without its terminator, one character per byte (U+0000–U+00FF). */
  | { readonly atMs: number; readonly source: string; readonly kind: 'line'; readonly text: string }
  /** A ready reading: recognition is skipped, plausibility is not. */
  | { readonly atMs: number; readonly source: string; readonly kind: 'reading'; readonly valuesC: ValuesC }
  | {
      readonly atMs: number;
      readonly source: string;
      readonly kind: 'link';
      readonly up: boolean;
      readonly why?: string;
    }
  | { readonly atMs: number; readonly source: string; readonly kind: 'command'; readonly command: Command }
  /** Nothing follows: late deadlines are settled up to here and the run ends. */
  | { readonly atMs: number; readonly source: string; readonly kind: 'end' }
  /** Only asks whether a deadline has passed; never recorded, never changes a log. */
  | { readonly atMs: number; readonly kind: 'tick' };

export type RecordedInput = Exclude<Input, { kind: 'tick' }>;
