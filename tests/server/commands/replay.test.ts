/** `bowlside replay`, from the words on the command line to lines and exit code, over real files. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import type { RunEvent } from '../../../server/core/record/event.ts';
import type { RecordedInput } from '../../../server/core/record/input.ts';
import { encodeRunFile, type RunFile } from '../../../server/core/record/trace.ts';
import { runTrace } from '../../../server/core/replay.ts';
import { replay } from '../../../server/commands/replay.ts';
import { headerFor } from '../../support/bowl.ts';
import { shipped } from '../../support/shipped.ts';

const DARK = shipped('dark');
const PROFILES = join(import.meta.dirname, '../../../profiles');

const folder = mkdtempSync(join(tmpdir(), 'bowlside-replay-'));
afterAll(() => rmSync(folder, { recursive: true }));

/** Minute and °C of the corners of a run in which the chocolate is left on the heat too long while rewarming. */
const OVER: readonly (readonly [minute: number, tempC: number])[] = [
  [0, 24],
  [20, 47],
  [25, 47.5],
  [50, 27.6],
  [56, 27.5],
  [70, 33.2],
  [72, 33.2],
  [80, 31.6],
  [95, 31.5],
];

/** The temperature at a second of the run, along straight lines. */
function tempAt(corners: typeof OVER, atS: number): number {
  const minute = atS / 60;
  const next = corners.findIndex(([corner]) => corner > minute);
  if (next === -1) return corners.at(-1)![1];
  const [[from, fromC], [to, toC]] = [corners[next - 1]!, corners[next]!];
  return fromC + ((toC - fromC) * (minute - from)) / (to - from);
}

function tableOf(corners: typeof OVER): string {
  const lastS = corners.at(-1)![0] * 60;
  const rows = Array.from({ length: lastS + 1 }, (_, atS) => `${atS},${tempAt(corners, atS).toFixed(2)}`);
  return `t_s,chocolate_c\n${rows.join('\n')}\n`;
}

function file(name: string, text: string): string {
  const path = join(folder, name);
  writeFileSync(path, text);
  return path;
}

const darkFile = file('dark.json', JSON.stringify(DARK));
const table = file('over.csv', tableOf(OVER));

const header = headerFor(DARK, { condition: 'solid' });
const inputs: readonly RecordedInput[] = [
  { atMs: 7000, source: 'person', kind: 'command', command: { name: 'start', phase: 'melt' } },
  ...Array.from({ length: 95 * 60 }, (_, atS): RecordedInput => ({
    atMs: 7000 + atS * 1000,
    source: 'thermometer',
    kind: 'line',
    text: `T=${tempAt(OVER, atS).toFixed(2)} C`,
  })),
  { atMs: 7000 + 95 * 60_000, source: 'thermometer', kind: 'end' },
];
const run: RunFile = { what: 'run', header, labels: {}, inputs, events: runTrace(header, inputs) };
const runPath = file('over.jsonl', encodeRunFile(run));
const tracePath = file('over.trace.jsonl', encodeRunFile({ ...run, what: 'trace' }));
file('over.log.jsonl', encodeRunFile({ ...run, what: 'log' }));

/** Eight minutes of it, from before the ceiling to well over it: where many estimates are asked for, each costs. */
const OVER_MS = [7000 + 66 * 60_000, 7000 + 74 * 60_000] as const;
const overInputs: readonly RecordedInput[] = [
  { atMs: OVER_MS[0], source: 'person', kind: 'command', command: { name: 'start', phase: 'rewarm' } },
  ...inputs.filter(({ kind, atMs }) => kind === 'line' && atMs >= OVER_MS[0] && atMs <= OVER_MS[1]),
];
const overRun: RunFile = { ...run, inputs: overInputs, events: runTrace(header, overInputs) };
const overPath = file('only-over.jsonl', encodeRunFile(overRun));

interface Ran {
  readonly code: number;
  readonly out: readonly string[];
  readonly err: readonly string[];
}

async function ran(...argv: string[]): Promise<Ran> {
  const out: string[] = [];
  const err: string[] = [];
  const code = await replay(argv, {
    out: (line) => void out.push(line),
    err: (line) => void err.push(line),
    profilesFolder: PROFILES,
  });
  return { code, out, err };
}

type Answer = RunEvent | { readonly kind: 'estimate'; readonly atMs: number; readonly tempC: number };

async function answers(...argv: string[]): Promise<readonly Answer[]> {
  const { code, out, err } = await ran(...argv, '--json');
  expect(err).toEqual([]);
  expect(code).toBe(0);
  return out.map((line) => JSON.parse(line) as Answer);
}

describe('replaying a table', () => {
  it('takes it through the phases of the profile and tells an overshoot', async () => {
    const log = await answers(table, '--profile', darkFile);
    const phases = log.flatMap((event) => (event.kind === 'phase-entered' ? [event.phase] : []));
    expect(phases).toEqual(['melt', 'cool', 'rewarm', 'work']);
    expect(log.some((event) => event.kind === 'alarm-raised' && event.alarm === 'overshoot')).toBe(true);
    expect(log.at(-1)).toMatchObject({ kind: 'run-ended', by: 'trace', atMs: 95 * 60_000 });
  });

  it('finds a profile by its id as by its file', async () => {
    expect(await answers(table, '--profile', 'dark')).toEqual(await answers(table, '--profile', darkFile));
  });

  it('judges under the profile that was named', async () => {
    const [asDark, asMilk] = [await answers(table, '--profile', 'dark'), await answers(table, '--profile', 'milk')];
    expect(asMilk).not.toEqual(asDark);
  });

  it('judges with the lag of the probe that was named', async () => {
    const log = (lagS: string) => answers(table, '--profile', 'dark', '--probe-lag', lagS);
    expect(await log('20')).not.toEqual(await log('0'));
  });
});

describe('estimates between the events', () => {
  it('come every so many seconds from the start, in the order of time, after the events of their moment', async () => {
    const all = await answers(runPath, '--estimates', '10');
    const times = all.map(({ atMs }) => atMs);
    expect(times).toEqual(times.toSorted((a, b) => a - b));
    const estimates = all.filter(({ kind }) => kind === 'estimate');
    expect(estimates.length).toBeGreaterThan(95 * 6 - 3);
    for (const { atMs } of estimates) expect((atMs - 7000) % 10_000).toBe(0);
    for (const [index, { kind, atMs }] of all.entries()) {
      if (kind === 'estimate') expect(all[index + 1]?.atMs ?? Infinity).toBeGreaterThan(atMs);
    }
  });

  it('never change the log', async () => {
    for (const [path, everyS] of [
      [runPath, '60'],
      [overPath, '0.7'],
      [overPath, '0.1'],
    ] as const) {
      const plain = await answers(path);
      const withThem = await answers(path, '--estimates', everyS);
      expect(withThem.length, everyS).toBeGreaterThan(plain.length);
      expect(withThem.filter(({ kind }) => kind !== 'estimate')).toEqual(plain);
    }
    expect((await answers(overPath)).map(({ kind }) => kind)).toContain('alarm-raised');
  });

  it('fall on their seconds though these are no whole milliseconds', async () => {
    const all = await answers(runPath, '--estimates', '33.3333');
    const estimates = all.filter(({ kind }) => kind === 'estimate');
    const step = 33_333.3;
    for (const { atMs } of estimates) {
      expect(atMs - 7000).toBe(Math.round(step * Math.round((atMs - 7000) / step)));
    }
  });
});

describe('checking a recorded log', () => {
  it('says that a run, or a trace with its log beside it, is as it was', async () => {
    for (const path of [runPath, tracePath]) {
      const { code, out, err } = await ran(path, '--check');
      expect([code, err]).toEqual([0, []]);
      expect(out.at(-1)).toBe(`The log is the same: ${run.events.length} events.`);
    }
  });

  it('shows the first event that differs, and fails with 1', async () => {
    const changed = run.events.map((event) =>
      event.kind === 'phase-entered' && event.phase === 'cool' ? { ...event, atMs: event.atMs + 1 } : event,
    );
    const { code, err } = await ran(file('changed.jsonl', encodeRunFile({ ...run, events: changed })), '--check');
    const at = run.events.findIndex((event) => event.kind === 'phase-entered' && event.phase === 'cool');
    expect(code).toBe(1);
    expect(err[0]).toContain(`from event ${at + 1} on`);
    expect(err[1]).toContain(JSON.stringify(changed[at]));
    expect(err[2]).toContain(JSON.stringify(run.events[at]));
  });

  it('finds an event that is missing at the end', async () => {
    const short = { ...run, events: run.events.slice(0, -1) };
    const { code, err } = await ran(file('short.jsonl', encodeRunFile(short)), '--check', '--json');
    expect(code).toBe(1);
    expect(err[1]).toContain('nothing more');
  });

  it('cannot be done where there is no log', async () => {
    expect(await ran(table, '--profile', 'dark', '--check')).toMatchObject({ code: 2, out: [] });
    const alone = file('alone.trace.jsonl', encodeRunFile({ ...run, what: 'trace' }));
    expect((await ran(alone, '--check')).err[0]).toMatch(/alone\.log\.jsonl: there is no such file$/);
  });
});

describe('judging a recorded run again', () => {
  it('takes another profile all the way through, and another lag', async () => {
    const again = await answers(runPath, '--profile', 'milk');
    expect(again.find(({ kind }) => kind === 'run-started')).toMatchObject({ profile: 'milk' });
    expect(await answers(runPath, '--probe-lag', '25')).not.toEqual(await answers(runPath));
  });

  it('starts in the first phase of a profile that lacks the phase it was started in', async () => {
    const { title, coating, source } = DARK;
    const syrup = { id: 'syrup', title, coating, source, phases: [{ id: 'boil', heading: 'up', bandC: [40, 41] }] };
    const log = await answers(runPath, '--profile', file('syrup.json', JSON.stringify(syrup)));
    expect(log.find(({ kind }) => kind === 'phase-entered')).toMatchObject({ phase: 'boil', from: null });
  });
});

describe('what is printed', () => {
  it('is the log to read, with the time since the start, where no JSON is asked for', async () => {
    const { code, out } = await ran(runPath);
    expect(code).toBe(0);
    expect(out).toHaveLength(run.events.length);
    expect(out[0]).toMatch(/^0:00:00 {2}The run begins, with the profile dark; the chocolate is solid\.$/);
    expect(out.find((line) => line.includes('ALARM, over the ceiling '))).toMatch(
      /^1:0\d:\d\d {2}ALARM, over the ceiling at 3\d\.\d\d °C, /,
    );
  });

  it('is nothing but the events as they are with --json, even when timed', async () => {
    const { code, out, err } = await ran(runPath, '--json', '--timing');
    expect(code).toBe(0);
    expect(out.map((line) => JSON.parse(line) as RunEvent)).toEqual(run.events);
    expect(err).toHaveLength(1);
    expect(err[0]).toMatch(/^5700 readings in \d+\.\d{3} s inside step: \d+ readings per second$/);
  });

  it('waits for whoever takes the lines', async () => {
    let taking = 0;
    let most = 0;
    const slow = async () => {
      taking += 1;
      most = Math.max(most, taking);
      await new Promise(setImmediate);
      taking -= 1;
    };
    await replay([runPath, '--json'], { out: slow, err: slow, profilesFolder: PROFILES });
    expect(most).toBe(1);
  });
});

describe('bad arguments and unreadable files', () => {
  const broken = file('broken.jsonl', encodeRunFile(run).replace('"kind":"line"', '"kind":"tune"'));
  const back = file('back.csv', 't_s,chocolate_c\n0,30\n2,30\n1,30\n');
  const badProfile = file('bad-profile.txt', '{"id":');
  const latin = join(folder, 'latin.csv');
  writeFileSync(latin, Buffer.from('t_s,chocolate_\xe7\n', 'latin1'));

  it.each([
    [[], 'a FILE is wanted'],
    [[table, 'second.csv'], 'one FILE at a time'],
    [[table], 'needs --profile'],
    [[table, '--profile', 'nougat'], 'nougat'],
    [[table, '--profile', badProfile], 'bad-profile.txt'],
    [
      [table, '--profile', 'dark', '--speed', '9'],
      'there is no option --speed; npx bowlside replay --help lists those there are',
    ],
    [[table, '--profile', 'dark', '--estimates', '0'], '--estimates 0: seconds from 0.1 to 86400 are wanted'],
    [[table, '--profile', 'dark', '--estimates', 'often'], '--estimates often'],
    [[table, '--profile', 'dark', '--estimates'], '--estimates'],
    [[table, '--profile', 'dark', '--probe-lag', '-1'], '--probe-lag -1: seconds from 0 to 300 are wanted'],
    [[table, '--profile', 'dark', '--probe-lag=-1'], '--probe-lag -1: seconds from 0 to 300 are wanted'],
    [[join(folder, 'none.csv'), '--profile', 'dark'], 'none.csv: there is no such file'],
    [[folder], 'neither a .csv nor a .jsonl file'],
    [[back, '--profile', 'dark'], 'back.csv, line 4: t_s is 1: time may not go back'],
    [[broken], 'broken.jsonl, line 3: kind is "tune": one of'],
    [[latin, '--profile', 'dark'], 'latin.csv: not UTF-8 text'],
    [[file('some.log.jsonl', encodeRunFile({ ...run, what: 'log' }))], 'a log holds nothing to judge'],
  ])('%j is 2, with one line that says why', async (argv, why) => {
    const { code, out, err } = await ran(...argv, '--json');
    expect(code).toBe(2);
    expect(out).toEqual([]);
    expect(err).toHaveLength(1);
    expect(err[0]).toContain(why);
    expect(err[0]).not.toContain('\n');
  });
});
