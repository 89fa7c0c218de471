/** What a trace of a long day costs to be judged again: eight hours, ten lines of four channels a second, against the bare reading of its JSON and numbers. */
import { decodeRunFile, encodeRunFile } from '../../server/core/record/trace.ts';
import { step } from '../../server/core/engine.ts';
import type { RecordedInput } from '../../server/core/record/input.ts';
import { replayTrace } from '../../server/core/replay.ts';
import { headerFor } from '../support/bowl.ts';
import { shipped } from '../support/shipped.ts';
import { once } from './against.ts';
import type { Figure } from './figures.ts';
import { bowlC } from './stream.ts';

const HOURS = 8;
const EVERY_MS = 100;
const LINES = (HOURS * 3_600_000) / EVERY_MS;
/** While it is found out how the thermometer writes, lines are held: what they say isn't summed up on either side, ms. */
const FOUND_OUT_MS = 60_000;
/** A round takes seconds: no further one is begun after so long, ms. */
const LONGEST_MS = 35_000;
/** What the four are in, in their order; the last is in nothing that is watched. */
const ROLES = { 1: 'chocolate', 2: 'bath', 3: 'room', 4: 'ignored' } as const;
const WATCHED = 3;

export async function measureReplay(rounds: number): Promise<readonly Figure[]> {
  const text = trace();
  const ours: number[] = [];
  const floor: number[] = [];
  const untilMs = performance.now() + LONGEST_MS;
  do {
    const bare = await once(() => bareSum(text));
    const own = await once(() => judgedSum(text));
    if (bare.sum !== own.sum) throw new Error(`replay: ours makes a sum of ${own.sum}, the floor ${bare.sum}`);
    floor.push(bare.cpuMs / 1_000);
    ours.push(own.cpuMs / 1_000);
  } while (ours.length < rounds && performance.now() < untilMs);
  return [
    { name: `replay of ${HOURS} h, ${LINES} lines of four channels`, unit: 's', rounds: ours },
    { name: '… the floor', unit: 's', rounds: floor },
    { name: '… its speed', unit: '× the floor', rounds: ours.map((s, round) => floor[round]! / s) },
    { name: '… a line', unit: 'µs', rounds: ours.map((s) => (s * 1e6) / LINES) },
  ];
}

function trace(): string {
  const header = headerFor(shipped('dark'), { roles: ROLES });
  const lines = Array.from({ length: LINES }, (_, n): RecordedInput => {
    const chocolateC = bowlC(n);
    const [bathC, roomC, boxC] = [34 + (n % 40) / 100, 20.5 + (n % 7) / 100, chocolateC - 3];
    const text = [chocolateC, bathC, roomC, boxC].map((valueC) => valueC.toFixed(2)).join(' ');
    return { atMs: (n + 1) * EVERY_MS, source: 'made up', kind: 'line', text };
  });
  const start = { name: 'start', phase: 'work' } as const;
  const begun: RecordedInput = { atMs: 0, source: 'person', kind: 'command', command: start };
  return encodeRunFile({ what: 'trace', header, labels: {}, inputs: [begun, ...lines], events: [] });
}

/** In hundredths, so that sums are whole. */
function hundredths(valueC: number): number {
  return Math.round(valueC * 100);
}

function bareSum(text: string): number {
  let sum = 0;
  for (const json of text.split('\n').slice(1)) {
    if (json === '') continue;
    const input = JSON.parse(json) as { atMs: number; text?: string };
    if (input.text === undefined || input.atMs <= FOUND_OUT_MS) continue;
    const words = input.text.split(' ');
    for (let channel = 0; channel < WATCHED; channel++) sum += hundredths(Number(words[channel]));
  }
  return sum;
}

function judgedSum(text: string): number {
  const decoded = decodeRunFile(text);
  if (!decoded.ok) throw new Error('the trace cannot be read');
  const { header, inputs } = decoded.value;
  let sum = 0;
  const summing: typeof step = (state, input) => {
    const output = step(state, input);
    if (input.atMs > FOUND_OUT_MS) for (const { valueC } of output.readings) sum += hundredths(valueC);
    return output;
  };
  for (const said of replayTrace(header, inputs, null, summing)) if (said.kind === 'estimate') sum = NaN;
  return sum;
}
