/** What holds for every trace, tried on pieces of the recorded stories. A failure prints the seed and the smallest case found. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { initialState, step, type State } from '../server/core/engine.ts';
import { ACTS } from '../server/core/record/command.ts';
import type { Command } from '../server/core/record/command.ts';
import { ALARMS, type RunEvent } from '../server/core/record/event.ts';
import type { Input, RecordedInput } from '../server/core/record/input.ts';
import type { RunHeader } from '../server/core/record/run.ts';
import { decodeRunFile, encodeRunFile } from '../server/core/record/trace.ts';
import { runTrace } from '../server/core/replay.ts';
import { KnownProbes } from '../server/known/known-probes.ts';
import { Session } from '../server/session/session.ts';
import { LineReader } from '../server/source/line-reader.ts';
import type { Store } from '../server/store/store.ts';
import { readTrace, storyNames } from './support/fixtures.ts';
import { NOTHING_LEARNED } from './support/server.ts';
import { freshFolder, openedStore } from './support/store.ts';

const SEED = 20_261_125;

/** So many cases of those that step through a whole story, so many of those that take a few hundred inputs. */
const WHOLE = { seed: SEED, numRuns: 12 };
const SHORT = { seed: SEED, numRuns: 100 };

interface Story {
  readonly name: string;
  readonly header: RunHeader;
  readonly inputs: readonly RecordedInput[];
  readonly log: readonly RunEvent[];
}

const stories = new Map<string, Story>();

function story(name: string): Story {
  const known = stories.get(name);
  if (known) return known;
  const { header, inputs } = readTrace(name);
  const read = { name, header, inputs, log: runTrace(header, inputs) };
  stories.set(name, read);
  return read;
}

/** A story, printed by its name. */
const anyStory = fc.constantFrom(...storyNames()).map((name) => ({
  name,
  [fc.toStringMethod]: () => name,
}));

/** A place in something, from its beginning (0) to its end (1). */
const anyPlace = fc.double({ min: 0, max: 1, noNaN: true });

function indexAt(place: number, length: number): number {
  return Math.min(length, Math.floor(place * (length + 1)));
}

function fold(state: State, inputs: readonly Input[]): { readonly state: State; readonly log: readonly RunEvent[] } {
  const log: RunEvent[] = [];
  for (const input of inputs) {
    const turn = step(state, input);
    log.push(...turn.events);
    state = turn.state;
  }
  return { state, log };
}

function expectNoHoles(log: readonly RunEvent[]): void {
  expect(log.map(({ seq }) => seq)).toEqual(log.map((_, index) => index + 1));
}

/** The event with every moment in it moved. */
function shifted(event: RunEvent, byMs: number): RunEvent {
  const moved = { ...event, atMs: event.atMs + byMs };
  if (moved.kind === 'probe') return { ...moved, sinceMs: moved.sinceMs + byMs };
  if (moved.kind === 'alarm-quietened') return { ...moved, untilMs: moved.untilMs + byMs };
  return moved;
}

/** JSON has one zero, and nothing that is reckoned with a temperature tells the two apart. */
function withoutMinusZero(value: unknown): unknown {
  if (typeof value === 'number') return value + 0;
  if (typeof value !== 'object' || value === null) return value;
  if (Array.isArray(value)) return value.map(withoutMinusZero);
  return Object.fromEntries(Object.entries(value).map(([key, entry]) => [key, withoutMinusZero(entry)]));
}

function freeze<T>(value: T): T {
  if (typeof value !== 'object' || value === null || Object.isFrozen(value)) return value;
  Object.freeze(value);
  for (const entry of Object.values(value)) freeze(entry);
  return value;
}

describe('every recorded story', () => {
  it('[P1] has a log numbered without holes, in the order of time', () => {
    for (const name of storyNames()) {
      const { log } = story(name);
      expectNoHoles(log);
      const times = log.map(({ atMs }) => atMs);
      expect(times).toEqual(times.toSorted((a, b) => a - b));
    }
  });

  it('[P2] gives the same log, moved, when all of it happens earlier or later', () => {
    const shiftMs = fc.oneof(fc.integer({ min: -1e12, max: 1e12 }), fc.integer({ min: -1000, max: 1000 }));
    fc.assert(
      fc.property(anyStory, shiftMs, ({ name }, byMs) => {
        const { header, inputs, log } = story(name);
        const moved = inputs.map((input) => ({ ...input, atMs: input.atMs + byMs }));
        expect(runTrace(header, moved)).toEqual(log.map((event) => shifted(event, byMs)));
      }),
      WHOLE,
    );
  });

  it('[P3] gives the same log wherever somebody asks in between', () => {
    const ticks = fc.array(fc.tuple(anyPlace, fc.nat(3000)), { minLength: 1, maxLength: 200 });
    fc.assert(
      fc.property(anyStory, ticks, ({ name }, places) => {
        const { header, inputs, log } = story(name);
        const asked: Input[] = [...inputs];
        for (const [place, afterMs] of places) {
          const at = indexAt(place, asked.length - 1);
          const [before, after] = [asked[at]!.atMs, asked[at + 1]?.atMs ?? Infinity];
          asked.splice(at + 1, 0, { kind: 'tick', atMs: Math.min(before + afterMs, after) });
        }
        expect(runTrace(header, asked)).toEqual(log);
      }),
      WHOLE,
    );
  });

  it('[P3] gives the same log when somebody asks every quarter of a second, as the server does', () => {
    fc.assert(
      fc.property(anyStory, ({ name }) => {
        const { header, inputs, log } = story(name);
        const asked = inputs.flatMap((input, index): Input[] => {
          const gapMs = (inputs[index + 1]?.atMs ?? input.atMs) - input.atMs;
          const ticks = Array.from({ length: Math.floor(gapMs / 250) }, (_, nth) => input.atMs + (nth + 1) * 250);
          return [input, ...ticks.map((atMs): Input => ({ kind: 'tick', atMs }))];
        });
        expect(runTrace(header, asked)).toEqual(log);
      }),
      { ...WHOLE, numRuns: 4 },
    );
  });

  it('[P4] is the same in two halves as in one', () => {
    fc.assert(
      fc.property(anyStory, anyPlace, ({ name }, place) => {
        const { header, inputs, log } = story(name);
        const cut = indexAt(place, inputs.length);
        const first = fold(initialState(header), inputs.slice(0, cut));
        const second = fold(first.state, inputs.slice(cut));
        expect([...first.log, ...second.log]).toEqual(log);
      }),
      WHOLE,
    );
  });

  it('is the same while another one runs beside it', () => {
    fc.assert(
      fc.property(anyStory, anyStory, ({ name }, { name: otherName }) => {
        const [one, other] = [story(name), story(otherName)];
        let [oneState, otherState] = [initialState(one.header), initialState(other.header)];
        const log: RunEvent[] = [];
        for (const [index, input] of one.inputs.entries()) {
          const turn = step(oneState, input);
          log.push(...turn.events);
          oneState = turn.state;
          const beside = other.inputs[index];
          if (beside) otherState = step(otherState, beside).state;
        }
        expect(log).toEqual(one.log);
      }),
      WHOLE,
    );
  });

  it('[P5] goes on the same from a state that has been JSON meanwhile, wherever that was', () => {
    const places = fc.array(anyPlace, { minLength: 1, maxLength: 20 });
    fc.assert(
      fc.property(anyStory, places, ({ name }, cuts) => {
        const { header, inputs, log } = story(name);
        const at = new Set(cuts.map((place) => indexAt(place, inputs.length)));
        const again: RunEvent[] = [];
        let state = initialState(header);
        for (const [index, input] of inputs.entries()) {
          if (at.has(index)) state = JSON.parse(JSON.stringify(state)) as State;
          const turn = step(state, input);
          again.push(...turn.events);
          state = turn.state;
        }
        expect(again).toEqual(log);
      }),
      WHOLE,
    );
  });

  it('[P6] is told by an engine that leaves the state and the input it is given untouched', () => {
    for (const name of storyNames()) {
      const { header, inputs, log } = story(name);
      let state = freeze(initialState(freeze(header)));
      const again: RunEvent[] = [];
      for (const [index, input] of inputs.entries()) {
        const turn = step(state, freeze(input));
        again.push(...turn.events);
        // Freezing walks the whole state: every seventh is enough to meet each kind of turn.
        state = index % 7 === 0 ? freeze(turn.state) : turn.state;
      }
      expect(again).toEqual(log);
    }
  });
});

describe('the bytes of a story', () => {
  it('[P7] give the same log wherever they are cut and whatever ends the lines', () => {
    const chunkLengths = fc.array(fc.integer({ min: 1, max: 200 }), { minLength: 1, maxLength: 50 });
    fc.assert(
      fc.property(anyStory, chunkLengths, fc.constantFrom('\n', '\r', '\r\n', '\n\r'), ({ name }, lengths, end) => {
        const { header, inputs, log } = story(name);
        const texts = inputs.flatMap((input) => (input.kind === 'line' ? [input.text] : []));
        const read = throughReader(Buffer.from(texts.map((text) => text + end).join(''), 'latin1'), lengths);
        const again = inputs.map((input) => (input.kind === 'line' ? { ...input, text: read.shift() ?? '' } : input));
        expect(read).toEqual([]);
        expect(runTrace(header, again)).toEqual(log);
      }),
      WHOLE,
    );
  });

  /** The lines that come out when the bytes arrive in chunks of these lengths, over and over. */
  function throughReader(bytes: Buffer, lengths: readonly number[]): string[] {
    const reader = new LineReader({ readableHighWaterMark: bytes.length * 2, writableHighWaterMark: bytes.length * 2 });
    for (let at = 0, nth = 0; at < bytes.length; nth += 1) {
      const length = lengths[nth % lengths.length]!;
      reader.write(bytes.subarray(at, at + length));
      at += length;
    }
    const out = reader.read() as Buffer | null;
    return out === null ? [] : out.toString('latin1').split('\n').slice(0, -1);
  }
});

describe('a story that happens live', () => {
  it('[P8] is judged the same from its export as it was at the time', async () => {
    const ticks = fc.array(fc.integer({ min: 1, max: 2000 }), { minLength: 1, maxLength: 5 });
    await fc.assert(
      fc.asyncProperty(anyStory, ticks, async ({ name }, tickEveryMs) => {
        const { header, inputs } = story(name);
        const store = openedStore(freshFolder());
        live(store, header, inputs, tickEveryMs);
        await store.flush();
        const stored = store.openRun('live')!;
        expect(stored.events.length).toBeGreaterThan(5);
        const exported = { what: 'run', labels: {}, inputs: store.inputsOf('live'), ...stored } as const;
        const decoded = decodeRunFile(encodeRunFile(exported));
        if (!decoded.ok) throw new Error(decoded.reason);
        expect(decoded.value.events).toEqual(stored.events);
        expect(runTrace(decoded.value.header, decoded.value.inputs)).toEqual(stored.events);
      }),
      { seed: SEED, numRuns: 3 },
    );
  });

  /** The story through a session of its own, with somebody asking now and then. */
  function live(
    store: Store,
    header: RunHeader,
    inputs: readonly RecordedInput[],
    tickEveryMs: readonly number[],
  ): void {
    let nowMs = 0;
    const clock = { nowMs: () => nowMs };
    const { profile, probeLagS, condition } = header;
    const labels = { bowl: 'bowl-1', wallNowMs: () => nowMs, newRunId: () => 'live' };
    const probes = new KnownProbes({ folder: store.folder, flagLagS: probeLagS });
    const profiles = { yardstick: profile, profiles: () => [profile] };
    const session = new Session({ ...labels, ...profiles, clock, store, probes, learnedOf: () => NOTHING_LEARNED });
    session.command({ name: 'choose-profile', profile, condition: condition ?? 'solid' });
    for (const [index, input] of inputs.entries()) {
      const everyMs = tickEveryMs[index % tickEveryMs.length]!;
      while (nowMs + everyMs < input.atMs) session.feed({ kind: 'tick', atMs: (nowMs += everyMs) });
      nowMs = input.atMs;
      if (input.kind === 'command') session.command(input.command);
      else session.feed(input);
    }
  }
});

describe('any input at all', () => {
  const anyNumber = fc.oneof(
    fc.double(),
    fc.constantFrom(NaN, Infinity, -Infinity, -0, 85, -127, 1e300, 31.5),
    fc.double({ min: 20, max: 60, noNaN: true }),
  );
  /** Commands are checked before they come here: numbers in them are numbers. */
  const anyFinite = fc.double({ noNaN: true, noDefaultInfinity: true });
  const anyText = fc.oneof(
    fc.string({ unit: 'binary' }),
    fc.constantFrom('31.5', 'T=31,4 C', '{"t":31.5}', '88.2F', '[[[[', '{"a":{"b":', '-127', '\u0000', '٣١'),
    fc.double().map(String),
    fc.string().map((text) => `T=${text}`),
  );

  const anyCommand: fc.Arbitrary<Command> = fc.oneof(
    fc.record({
      name: fc.constant('start' as const),
      phase: fc.oneof(fc.constantFrom('melt', 'cool', 'work'), anyText),
    }),
    fc.constantFrom<Command>({ name: 'next' }, { name: 'back' }),
    fc.record({ name: fc.constant('act' as const), act: fc.constantFrom(...ACTS) }),
    fc.record({ name: fc.constantFrom('acknowledge' as const, 'quieten' as const), alarm: fc.constantFrom(...ALARMS) }),
    fc.record({
      name: fc.constant('assign-role' as const),
      channel: fc.oneof(anyText, fc.constantFrom('__proto__', 'constructor', '0')),
      role: fc.constantFrom('chocolate' as const, 'bath' as const, 'ignored' as const),
    }),
    fc.record({ name: fc.constant('choose-reading' as const), decimalComma: fc.boolean() }),
    fc.record({ name: fc.constant('set-correction' as const), offsetC: anyFinite, gain: anyFinite }),
    anyStory.chain(({ name }) =>
      fc.record({
        name: fc.constant('choose-profile' as const),
        profile: fc.constant(story(name).header.profile),
        condition: fc.constantFrom('solid' as const, 'melted' as const, 'tempered' as const),
      }),
    ),
  );

  const stamp = { source: fc.constant('x') };
  const anyAtMs = fc.oneof(
    { weight: 20, arbitrary: fc.nat(600_000) },
    fc.integer(),
    fc.constantFrom(-1, Number.MAX_SAFE_INTEGER, Number.MIN_SAFE_INTEGER),
  );
  const anyValue = fc.option(anyNumber, { nil: null });
  const anyInput: fc.Arbitrary<Input> = fc.oneof(
    fc.record({ ...stamp, atMs: anyAtMs, kind: fc.constant('line' as const), text: anyText }),
    fc.record({
      ...stamp,
      atMs: anyAtMs,
      kind: fc.constant('reading' as const),
      valuesC: fc.record({ chocolate: anyValue, bath: anyValue, room: anyValue }, { requiredKeys: [] }),
    }),
    fc.record({ ...stamp, atMs: anyAtMs, kind: fc.constant('link' as const), up: fc.boolean() }),
    fc.record({ ...stamp, atMs: anyAtMs, kind: fc.constant('command' as const), command: anyCommand }),
    fc.record({ atMs: anyAtMs, kind: fc.constant('tick' as const) }),
  );

  it('[P9] in the midst of any story makes step neither throw nor leave a hole in the numbers', () => {
    fc.assert(
      fc.property(anyStory, anyPlace, fc.array(anyInput, { maxLength: 60 }), ({ name }, place, wild) => {
        const { header, inputs } = story(name);
        const cut = indexAt(place, inputs.length - 1);
        const around = [...inputs.slice(Math.max(0, cut - 200), cut), ...wild, ...inputs.slice(cut, cut + 100)];
        const { state, log } = fold(initialState(header), around);
        expectNoHoles(log);
        expect(state.seq).toBe(log.length);
      }),
      SHORT,
    );
  });

  it('[P1] in any order of time leaves the log in order', () => {
    fc.assert(
      fc.property(anyStory, fc.array(anyInput, { maxLength: 60 }), ({ name }, wild) => {
        // A tick is the feed's own clock: it is never ahead of what comes after it.
        const recorded = wild.filter(({ kind }) => kind !== 'tick');
        const { log } = fold(initialState(story(name).header), recorded);
        const times = log.map(({ atMs }) => atMs);
        expect(times).toEqual(times.toSorted((a, b) => a - b));
      }),
      SHORT,
    );
  });

  it('[P5] leaves a state that can be written down and read back', () => {
    fc.assert(
      fc.property(anyStory, fc.array(anyInput, { maxLength: 60 }), ({ name }, wild) => {
        const { state } = fold(initialState(story(name).header), wild);
        expect(JSON.parse(JSON.stringify(state))).toEqual(withoutMinusZero(state));
      }),
      SHORT,
    );
  });
});
