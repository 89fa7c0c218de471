/** The pure function from trace to log: `step(state, input)`. */
import type { RunEvent } from './record/event.ts';
import type { Estimate, FanBead } from './bowl/estimate.ts';
import type { Input } from './record/input.ts';
import type { Reading, RunHeader } from './record/run.ts';

export interface State {
  readonly version: number;
}
export interface Output {
  readonly state: State;
  readonly events: readonly RunEvent[];
  readonly readings: readonly Reading[];
}
export declare function initialState(header: RunHeader): State;
/** Never throws, whatever the input. */
export declare function step(state: State, input: Input): Output;
/** null before the first good reading. */
export declare function estimateAt(state: State, atMs: number): Estimate | null;
export declare function fanAt(state: State, atMs: number): readonly FanBead[];
