/**
 * Who watches the bowls: here the engine; whom it is compared with stands beside. All give events of the same shape, and
 * an estimate every ten seconds.
 */
import * as engine from '../../server/core/engine.ts';
import type { Estimate } from '../../server/core/bowl/estimate.ts';
import type { RunEvent } from '../../server/core/record/event.ts';
import type { Input } from '../../server/core/record/input.ts';
import type { Case } from './kitchens.ts';

/** How often an estimate is asked for, s. */
export const ASK_S = 10;

export interface Watched {
  readonly events: readonly RunEvent[];
  /** One for each `ASK_S` of the run, the first at 0. */
  readonly estimates: readonly (Estimate | null)[];
  readonly tookMs: number;
}

export interface Watcher {
  readonly name: string;
  watch(kitchen: Case): Watched;
}

const SOURCE = 'kitchen';

export const ENGINE: Watcher = {
  name: 'engine',
  watch(kitchen) {
    const inputs = inputsOf(kitchen);
    const events: RunEvent[] = [];
    const estimates: (Estimate | null)[] = [];
    let state = engine.initialState(kitchen.header);
    let tookMs = 0;
    let next = 0;
    for (const askMs of asksMs(kitchen)) {
      const startedMs = performance.now();
      for (let input = inputs[next]; input !== undefined && input.atMs <= askMs; input = inputs[next]) {
        const output = engine.step(state, input);
        state = output.state;
        for (const event of output.events) events.push(event);
        next += 1;
      }
      tookMs += performance.now() - startedMs;
      estimates.push(engine.estimateAt(state, askMs));
    }
    return { events, estimates, tookMs };
  },
};

function inputsOf(kitchen: Case): Input[] {
  const first = kitchen.profile.phases[0]?.id ?? '';
  const inputs: Input[] = [{ atMs: 0, source: SOURCE, kind: 'command', command: { name: 'start', phase: first } }];
  for (const { atS, valueC } of kitchen.samples) {
    inputs.push({ atMs: Math.round(atS * 1000), source: SOURCE, kind: 'reading', valuesC: { chocolate: valueC } });
  }
  inputs.push({ atMs: Math.round(kitchen.hours * 3_600_000), source: SOURCE, kind: 'end' });
  return inputs;
}

/** Moments at which estimates are asked for; the last lets the end of the run through. */
export function asksMs(kitchen: Case): number[] {
  const asks = Math.ceil((kitchen.hours * 3600) / ASK_S);
  return Array.from({ length: asks + 1 }, (_, index) => index * ASK_S * 1000);
}
