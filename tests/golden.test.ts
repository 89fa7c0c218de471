/**
 * Every recorded story gives the log that lies beside it, byte for byte, and shows what it is there to show: a log that is
 * written anew without being read cannot hide a change. REWRITE_FIXTURES=1 writes traces and logs anew first (`npm run fixtures`).
 */
import { readFileSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { AlarmName, RunEvent } from '../server/core/record/event.ts';
import { runTrace } from '../server/core/replay.ts';
import { FIXTURES, logOf, logPath, readTrace, storyNames, tracePath } from './support/fixtures.ts';
import { rewriteFixtures } from './support/rewrite-fixtures.ts';

if (process.env['REWRITE_FIXTURES'] === '1') rewriteFixtures();

type Log = readonly RunEvent[];
type Of<K extends RunEvent['kind']> = Extract<RunEvent, { kind: K }>;

interface Claim {
  /** The phases entered, in order. */
  readonly phases: readonly string[];
  /** Alarms that are raised at least once, and no others but those that may be. */
  readonly raised: readonly AlarmName[];
  readonly mayBeRaised?: readonly AlarmName[];
  readonly also?: (log: Log) => void;
}

const ALL_THE_WAY = ['melt', 'cool', 'rewarm', 'work'];

const CLEAN: Claim = {
  phases: ALL_THE_WAY,
  raised: [],
  also: (log) => {
    expect(of(log, 'cue').some(({ cue, phase }) => cue === 'off-heat' && phase === 'rewarm')).toBe(true);
    expect(standings(log)).toEqual(['not-made-yet', 'in-temper']);
  },
};

const CLAIMS: Readonly<Record<string, Claim>> = {
  'clean-dark': {
    ...CLEAN,
    also: (log) => {
      expect(new Set(standings(log))).toEqual(new Set(['not-made-yet', 'in-temper']));
      expect(of(log, 'act').map(({ act }) => act)).toEqual(['strip-test-good', 'dipping-started']);
    },
  },
  'clean-milk': CLEAN,
  'clean-white': CLEAN,
  'heat-by-turns': { phases: ALL_THE_WAY, raised: [] },
  'started-tempered': {
    phases: ['work'],
    raised: [],
    also: (log) => expect(of(log, 'standing')[0]?.why).toBe('started-tempered'),
  },
  'overshoot-in-rewarm': {
    phases: ALL_THE_WAY,
    raised: ['overshoot'],
    mayBeRaised: ['overshoot-ahead'],
    also: (log) => {
      expectCleared(log, 'overshoot');
      expect(of(log, 'alarm-acknowledged').map(({ alarm, by }) => [alarm, by])).toEqual([
        ['overshoot', 'Ana'],
        ['overshoot-ahead', 'Ana'],
      ]);
      expectToldBefore(log, 'overshoot');
    },
  },
  'slow-drift-over-ceiling': {
    phases: ALL_THE_WAY,
    raised: ['overshoot'],
    mayBeRaised: ['overshoot-ahead'],
    also: (log) => {
      expect(raisings(log, 'overshoot')[0]?.phase).toBe('work');
      expect(standings(log)).toContain('at-risk');
      expectToldBefore(log, 'overshoot');
    },
  },
  'temper-lost-and-recovered': {
    phases: [...ALL_THE_WAY, 'cool', 'rewarm', 'work'],
    raised: ['temper-lost', 'overshoot'],
    mayBeRaised: ['overshoot-ahead'],
    also: (log) => {
      expect(raisings(log, 'temper-lost')).toHaveLength(1);
      expectCleared(log, 'temper-lost');
      expect(of(log, 'phase-entered')[4]?.by).toBe('recovery');
      expect(standings(log)).toContain('lost');
      expect(of(log, 'standing').at(-1)?.why).toBe('made-again');
    },
  },
  undershoot: {
    phases: ALL_THE_WAY,
    raised: ['undershoot'],
    mayBeRaised: ['undershoot-ahead'],
    also: (log) => {
      expect(raisings(log, 'undershoot')[0]?.phase).toBe('cool');
      expectCleared(log, 'undershoot');
    },
  },
  'not-cooled-enough': {
    phases: ['melt', 'cool'],
    raised: ['not-cooled-enough'],
    also: (log) => expect(standings(log)).not.toContain('in-temper'),
  },
  'unplugged-while-cooling': {
    phases: ALL_THE_WAY,
    raised: ['probe-silent'],
    also: (log) => {
      const [, down, up] = of(log, 'link');
      expect([down?.up, up?.up]).toEqual([false, true]);
      const between = log.filter(({ atMs }) => atMs > down!.atMs && atMs < up!.atMs);
      expect(between.map(({ kind }) => kind)).toEqual(['alarm-raised']);
      expectCleared(log, 'probe-silent');
    },
  },
  'garbled-lines': {
    phases: ALL_THE_WAY,
    raised: [],
    also: (log) => {
      const reasons = new Set(of(log, 'rejected').map(({ reason }) => reason));
      for (const reason of ['empty', 'no-number', 'not-a-temperature'] as const) expect(reasons).toContain(reason);
    },
  },
  'probe-lifted': {
    phases: ALL_THE_WAY,
    raised: ['probe-lifted'],
    also: (log) => {
      expect(of(log, 'probe').map(({ state }) => state)).toEqual(['out', 'in', 'out', 'in']);
      expect(raisings(log, 'probe-lifted')).toHaveLength(1);
      expectCleared(log, 'probe-lifted');
    },
  },
  'warm-air-gun-on-tip': {
    phases: ALL_THE_WAY,
    raised: [],
    also: (log) => expect(new Set(standings(log))).toEqual(new Set(['not-made-yet', 'in-temper'])),
  },
  'power-on-sentinel': {
    phases: ALL_THE_WAY,
    raised: [],
    also: (log) => {
      expect(of(log, 'rejected').some(({ reason }) => reason === 'power-on-value')).toBe(true);
      expect(new Set(standings(log))).toEqual(new Set(['not-made-yet', 'in-temper']));
    },
  },
  'cold-top-up': {
    phases: ALL_THE_WAY,
    raised: [],
    mayBeRaised: ['below-working'],
    also: (log) => expect(of(log, 'act').map(({ act }) => act)).toEqual(['topped-up-tempered']),
  },
};

function of<K extends RunEvent['kind']>(log: Log, kind: K): Of<K>[] {
  return log.filter((event): event is Of<K> => event.kind === kind);
}

function raisings(log: Log, alarm: AlarmName): Of<'alarm-raised'>[] {
  return of(log, 'alarm-raised').filter((raised) => raised.alarm === alarm);
}

function standings(log: Log): string[] {
  return of(log, 'standing').map(({ standing }) => standing);
}

/** Each time it was raised it went away again. */
function expectCleared(log: Log, alarm: AlarmName): void {
  expect(of(log, 'alarm-cleared').filter((cleared) => cleared.alarm === alarm)).toHaveLength(
    raisings(log, alarm).length,
  );
}

/** Somebody who listened could have prevented it: within three minutes before the alarm, off the heat was said. */
function expectToldBefore(log: Log, alarm: AlarmName): void {
  const raisedAtMs = raisings(log, alarm)[0]?.atMs ?? NaN;
  const cues = of(log, 'cue').filter(({ cue, atMs }) => cue === 'off-heat' && atMs < raisedAtMs);
  expect(raisedAtMs - (cues.at(-1)?.atMs ?? -Infinity)).toBeLessThan(180_000);
}

describe.each(storyNames())('the story %s', (name) => {
  const trace = readTrace(name);
  const log = runTrace(trace.header, trace.inputs);
  const claim = CLAIMS[name];

  it('[P10] gives the log beside it, byte for byte', () => {
    expect(logOf(trace)).toBe(readFileSync(logPath(name), 'utf8'));
  });

  it('[P10] walks the phases it is about', () => {
    expect(log.some(({ kind }) => kind === 'run-started')).toBe(true);
    expect(of(log, 'phase-entered').map(({ phase }) => phase)).toEqual(claim?.phases);
    expect(log.at(-1)).toMatchObject({ kind: 'run-ended', by: 'trace' });
  });

  it('[P10] raises the alarms it is about, and no others', () => {
    const raised = new Set(of(log, 'alarm-raised').map(({ alarm }) => alarm));
    const optional = claim?.mayBeRaised ?? [];
    expect([...raised].filter((alarm) => !optional.includes(alarm)).toSorted()).toEqual(claim?.raised.toSorted());
  });

  it('shows what it is there to show', () => {
    claim?.also?.(log);
  });

  it('is described in the README of the fixtures', () => {
    expect(readFileSync(join(FIXTURES, 'README.md'), 'utf8')).toContain(`\n- **${name}**: `);
  });
});

describe('the folder of stories', () => {
  it('holds at least twelve, each with its claim, and nothing else', () => {
    const names = storyNames();
    expect(names.length).toBeGreaterThanOrEqual(12);
    expect(names).toEqual(Object.keys(CLAIMS).toSorted());
    const files = names.flatMap((name) => [tracePath(name), logPath(name)]);
    const found = readdirSync(FIXTURES).filter((name) => name.endsWith('.jsonl'));
    expect(found.map((name) => join(FIXTURES, name)).toSorted()).toEqual(files.toSorted());
  });
});
