/** What the list of runs says of a run, kept up turn by turn. */
import { expect, test } from 'vitest';
import type { EventBody, RunEvent } from '../../../server/core/record/event.ts';
import type { Reading } from '../../../server/core/record/run.ts';
import { EMPTY_TALLY, tallied } from '../../../server/store/tally.ts';
import type { Tally } from '../../../server/store/tally.ts';
import { OVERSHOOT } from '../../support/alarm.ts';

function told(tally: Tally, body: EventBody): Tally {
  const event: RunEvent = { ...body, seq: 1, atMs: 0 };
  return tallied(tally, [event], []);
}

function read(tally: Tally, estimateC: number): Tally {
  const reading: Reading = { atMs: 0, role: 'chocolate', valueC: estimateC, quality: 'good', estimateC };
  return tallied(tally, [], [reading]);
}

test('a run without alarms was never over', () => {
  expect(read(EMPTY_TALLY, 60)).toEqual(EMPTY_TALLY);
});

test('how far it went over the ceiling is the furthest estimate while the alarm stood', () => {
  const during = [33.1, 33.4, 32.9].reduce(read, told(EMPTY_TALLY, OVERSHOOT));
  expect(during.worstOverC).toBe(0.9);
  const after = told(during, { kind: 'alarm-cleared', alarm: 'overshoot', lastedMs: 9000, extremeC: 33.55 });
  expect(read(after, 45).worstOverC).toBe(1.05);
});

test('the worst alarm is the most urgent one, whatever came last', () => {
  const lost = { ...OVERSHOOT, alarm: 'temper-lost', severity: 'critical', limitC: 34 } as const;
  const lifted = { ...OVERSHOOT, alarm: 'probe-lifted', severity: 'notice', limitC: null, valueC: null } as const;
  expect([OVERSHOOT, lost, lifted].reduce(told, EMPTY_TALLY).worstAlarm).toBe('temper-lost');
});

test('the standing is the newest one told', () => {
  const first = told(EMPTY_TALLY, { kind: 'standing', standing: 'in-temper', why: 'seeded-and-rewarmed' });
  expect(told(first, { kind: 'standing', standing: 'at-risk', why: 'over-ceiling' }).standing).toBe('at-risk');
});

test('the phases are those entered, in order', () => {
  const entered = (tally: Tally, phase: string, atMs: number): Tally => {
    const event: RunEvent = { seq: 1, atMs, kind: 'phase-entered', phase, from: null, by: 'reached' };
    return tallied(tally, [event], []);
  };
  const { visits } = entered(entered(EMPTY_TALLY, 'melt', 0), 'cool', 60_000);
  expect(visits).toEqual([
    { phase: 'melt', atMs: 0 },
    { phase: 'cool', atMs: 60_000 },
  ]);
});

test('phases entered in one turn are added in one go, in order', () => {
  const entered = Array.from({ length: 3 }, (_, at): RunEvent => {
    return { seq: at + 1, atMs: at, kind: 'phase-entered', phase: `p${at}`, from: null, by: 'hand' };
  });
  const before = tallied(EMPTY_TALLY, entered.slice(0, 1), []);
  const after = tallied(before, entered.slice(1), []);
  expect(after.visits).toEqual(entered.map((_, at) => ({ phase: `p${at}`, atMs: at })));
  expect(before.visits).toHaveLength(1);
  // Copied once for a turn, however many were entered in it.
  const copies: unknown[] = [];
  const watched = new Proxy(before.visits, {
    get: (visits, key): unknown => {
      if (key === Symbol.iterator) copies.push(key);
      return Reflect.get(visits, key);
    },
  });
  tallied({ ...before, visits: watched }, entered.slice(1), []);
  expect(copies).toHaveLength(1);
});
