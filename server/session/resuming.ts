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
  const inputs = inputsAgain(found.run.run, store);
  const state = inputs === null ? null : stateAgain(found, inputs);
  if (inputs === null || state === null) return null;
  const beside = state.header.companions ?? {};
  const lastLink = inputs.findLast((input) => input.kind === 'link' && !Object.hasOwn(beside, input.source));
  const linkUp = lastLink?.kind === 'link' && lastLink.up;
  return { state, turns: inputs.length, probe: probeAgain(found.run.header, inputs), linkUp };
}

function inputsAgain(run: string, store: Pick<Store, 'inputsOf'>): readonly RecordedInput[] | null {
  try {
    return store.inputsOf(run);
  } catch {
    return null;
  }
}

/** From the checkpoint, or from the first input where there is none of this version: stored events are never rewritten. */
function stateAgain(found: RunToResume, inputs: readonly RecordedInput[]): State | null {
  const checkpoint = found.checkpoint === null ? null : (JSON.parse(found.checkpoint.state) as State);
  if (checkpoint?.version === ENGINE_VERSION) return stepped(checkpoint, found.inputsSince);
  const state = stepped(initialState(found.run.header), inputs);
  return state.seq === found.events.length ? state : null;
}

function stepped(from: State, inputs: readonly RecordedInput[]): State {
  return inputs.reduce((state, input) => step(state, input).state, from);
}

/** What was known of the probe after these inputs. */
function probeAgain(header: RunHeader, inputs: readonly RecordedInput[]): Probe {
  const commands = inputs.flatMap((input) => (input.kind === 'command' ? [input.command] : []));
  return commands.reduce(probeAfter, probeOf(header));
}
