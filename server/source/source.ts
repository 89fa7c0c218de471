/** What every source of inputs is: the serial port, the simulated bowl and a recorded trace look alike from here on. */
import type { RecordedInput } from '../core/record/input.ts';
import type { Profile } from '../core/record/profile.ts';
import type { LinkState } from '../core/show/wire.ts';
import type { Query } from './asking.ts';

/** The feed's one clock: monotonic, whole milliseconds. Given to every source and to commands. */
export interface Clock {
  nowMs(): number;
}

export interface SourceListener {
  input(input: RecordedInput): void;
  link(state: LinkState): void;
}

export interface Source {
  /** Stable name of where lines come from; recorded with every input. */
  readonly id: string;
  readonly simulated: boolean;
  /** Starts once; never throws for a missing device: that is a link state. */
  start(listener: SourceListener): void;
  /**
   * Solid chocolate has come into the bowl, to be worked along this profile. The link goes down and up: it is another bowl. Absent: what is in
   * the bowl is seen by its readings.
   */
  beginAnew?(profile: Profile): void;
  /** Asks this from now on, by a person's wish; null: nothing any more. Absent: it cannot be asked. */
  ask?(query: Query | null): void;
  /** Lets go of everything; resolves when nothing is left running. Safe to call twice. */
  close(): Promise<void>;
}
