/** Bringing the engine back to where it stood when the server before this one stopped. Changes nothing that is stored. */
import { initialState, type State, step } from '../core/engine.ts';
import type { RecordedInput } from '../core/record/input.ts';
import { type Probe, probeAfter, probeOf } from '../core/record/probe.ts';
import { ENGINE_VERSION, type RunHeader } from '../core/record/run.ts';
import type { RunToResume } from '../store/records.ts';
import type { Store } from '../store/store.ts';

/** Where a stored run stands, after this many recorded turns. */
export interface RunAgain {
  readonly state: State;
  readonly turns: number;
  readonly probe: Probe;
  /** What the last thing said of the thermometer's link was: it was up. */
  readonly linkUp: boolean;
}

/** null: today's engine sees the run otherwise than the one that recorded it, or what went in is damaged on disk. */
export function runAgain(found: RunToResume, store: Pick<Store, 'inputsOf'>): RunAgain | null {
  const state = stateAgain(found, store);
  if (state === null) return null;
  const beside = state.header.companions ?? {};
  const lastLink = found.said.findLast((input) => input.kind === 'link' && !Object.hasOwn(beside, input.source));
  const linkUp = lastLink?.kind === 'link' && lastLink.up;
  return { state, turns: found.turns, probe: probeAgain(found.run.header, found.said), linkUp };
}

/** From the checkpoint, or from the first input where there is none of this version: stored events are never rewritten. */
function stateAgain(found: RunToResume, store: Pick<Store, 'inputsOf'>): State | null {
  const checkpoint = found.checkpoint === null ? null : (JSON.parse(found.checkpoint.state) as State);
  if (checkpoint?.version === ENGINE_VERSION) return stepped(checkpoint, found.inputsSince);
  const inputs = inputsAgain(found, store);
  const state = inputs === null ? null : stepped(initialState(found.run.header), inputs);
  return state?.seq === found.events.length ? state : null;
}

function inputsAgain({ run, checkpoint, inputsSince }: RunToResume, store: Pick<Store, 'inputsOf'>) {
  if (checkpoint === null) return inputsSince;
  try {
    return store.inputsOf(run.run);
  } catch {
    return null;
  }
}

function stepped(from: State, inputs: readonly RecordedInput[]): State {
  return inputs.reduce((state, input) => step(state, input).state, from);
}

/** What was known of the probe after all that was said. */
function probeAgain(header: RunHeader, said: readonly RecordedInput[]): Probe {
  const commands = said.flatMap((input) => (input.kind === 'command' ? [input.command] : []));
  return commands.reduce(probeAfter, probeOf(header));
}
