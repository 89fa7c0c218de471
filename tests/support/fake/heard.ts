/**
 * What the product makes of a fake thermometer: its serial source opened on a wire, and behind it the engine with tempered chocolate in the
 * working phase. All that was said on the way is kept.
 */
import { setTimeout as wait } from 'node:timers/promises';
import type { RecordedInput } from '../../../server/core/record/input.ts';
import type { LinkState } from '../../../server/core/show/wire.ts';
import type { Clock, Source } from '../../../server/source/source.ts';
import { serialSource, type SerialOptions } from '../../../server/source/serial.ts';
import { Bowl, shippedProfile } from '../bowl.ts';
import { bowlAt, deedsOf } from './deeds.ts';
import { PtyWire } from './pty-wire.ts';
import type { Script } from './script.ts';
import { VirtualTime } from './virtual-time.ts';
import { VirtualWire } from './virtual-wire.ts';
import { NO_GROUP, NO_OTHERS, played, type Wire } from './wire.ts';

/** How often the engine is asked for deadlines, ms: as the server does. */
const TICK_MS = 250;
/** A good reading further from the bowl than this is bogus, °C: what the bowl moves in five seconds, its noise, and a tenth. Ours. */
const BOGUS_C = 0.25;
/** What a busy machine is given to carry the last bytes through a pseudo-terminal, ms (ours): only a failing test waits for it. */
const PATIENCE_MS = 10_000;

export interface Heard {
  readonly source: Source;
  readonly inputs: readonly RecordedInput[];
  readonly links: readonly LinkState[];
  readonly bowl: Bowl;
  lines(): string[];
  /** Ups and downs, in their order. */
  turns(): boolean[];
  /** Why the link was not up, each once, in the order of the first time. */
  reasons(): string[];
  /** How often each reason to refuse something was counted. */
  refused(): Readonly<Record<string, number>>;
  /** Time has come this far. */
  tick(): void;
}

/** `atMs` of the wire's deeds and of the clock begin together. */
export function listening(wire: Wire, clock: Clock, options: Partial<SerialOptions> = {}): Heard {
  const source = serialSource({ identity: wire.identity, clock, list: wire.list, ...options });
  const bowl = new Bowl(shippedProfile('dark'), 31.5, { condition: 'tempered' });
  const inputs: RecordedInput[] = [];
  const links: LinkState[] = [];
  bowl.start('work');
  source.start({
    input: (input) => {
      inputs.push(input);
      bowl.feed(input);
    },
    link: (state) => links.push(state),
  });
  return {
    source,
    inputs,
    links,
    bowl,
    lines: () => inputs.flatMap((input) => (input.kind === 'line' ? [input.text] : [])),
    turns: () => inputs.flatMap((input) => (input.kind === 'link' ? [input.up] : [])),
    reasons: () => [...new Set(links.flatMap((link) => ('why' in link ? [link.why] : [])))],
    refused: () => bowl.state.rejected,
    tick: () => void bowl.feed({ atMs: clock.nowMs(), kind: 'tick' }),
  };
}

/** A whole script on the virtual port, by a clock moved by hand, to its end and a while beyond. */
export async function heardVirtually(
  script: Script,
  wire: VirtualWire = new VirtualWire(),
  options: Partial<SerialOptions> = {},
): Promise<Heard> {
  const time = new VirtualTime();
  time.install();
  try {
    const [first, ...others] = deedsOf(script);
    await wire.obey(first!);
    const heard = listening(wire, time, { othersAt: NO_OTHERS, groupOf: NO_GROUP, ...options });
    const ticking = setInterval(() => heard.tick(), TICK_MS);
    await played(others, wire, (atMs) => time.run(atMs));
    await time.run(script.forMs + 100);
    clearInterval(ticking);
    const closing = heard.source.close();
    await time.run(time.nowMs() + 1000);
    await closing;
    if (time.waiting > 0) throw new Error(`${time.waiting} timers are left after closing`);
    return heard;
  } finally {
    time.remove();
    await wire.close();
  }
}

/** A whole script on a pseudo-terminal, by the machine's clock; closed when it is over and all that `isAll` wants was heard. */
export async function heardReally(
  script: Script,
  isAll: (heard: Heard) => boolean,
  options: Partial<SerialOptions> = {},
): Promise<Heard> {
  const wire = new PtyWire();
  const startedMs = performance.now();
  const clock = { nowMs: () => Math.round(performance.now() - startedMs) };
  const until = (atMs: number): Promise<void> => wait(Math.max(0, atMs - clock.nowMs()));
  try {
    const [first, ...others] = deedsOf(script);
    await wire.obey(first!);
    const heard = listening(wire, clock, options);
    // Before it is open nobody hears it.
    while (heard.links.at(-1)?.state === 'looking') await wait(5);
    await played(others, wire, until);
    await until(script.forMs);
    while (!isAll(heard) && clock.nowMs() < script.forMs + PATIENCE_MS) await wait(5);
    await heard.source.close();
    return heard;
  } finally {
    await wire.close();
  }
}

/** Good readings that no bowl of this script showed within the last five seconds: nothing of the kind may reach the person. */
export function bogus(heard: Heard, script: Script, allowedC = 0): string[] {
  const good = heard.bowl.readings.filter(({ role, quality }) => role === 'chocolate' && quality === 'good');
  return good
    .filter(({ atMs, valueC }) => Math.abs(valueC - bowlAt(script, atMs)) > BOGUS_C + allowedC)
    .map(
      ({ atMs, valueC }) => `${valueC} °C at ${atMs / 1000} s, where the bowl is at ${bowlAt(script, atMs).toFixed(2)}`,
    );
}
