import { expect, test } from 'vitest';
import type { Reading } from '../../server/core/record/run.ts';
import type { RunInfo } from '../../server/core/show/wire.ts';
import { Told } from '../../server/session/told.ts';
import { STALL_MS, Untold } from '../../server/session/untold.ts';
import { shipped } from '../support/shipped.ts';

const INFO: RunInfo = {
  run: 'run-1',
  profile: shipped('dark'),
  condition: 'solid',
  simulated: false,
  startedAtMs: 0,
  startedAtWall: '2026-11-25T09:00:00.000Z',
  probeLagS: null,
  resumed: false,
};

function reading(i: number, valueC = 31): Reading {
  return { atMs: i * 100, role: 'chocolate', valueC, quality: 'good', estimateC: valueC };
}

function toldOf(count: number, peakAt = -1): Told {
  const told = new Told('bowl-1', INFO);
  for (let i = 0; i < count; i += 100) {
    const readings = Array.from({ length: 100 }, (_, k) => reading(i + k, i + k === peakAt ? 35 : 31));
    told.tell([{ turn: i, sinceMs: 0, events: [], readings }]);
  }
  return told;
}

function resume(readingCount: number) {
  return { epoch: 'e', run: 'run-1', seq: 0, readingCount };
}

test('a page that was away for a few minutes gets the readings it missed, one for away for hours the whole curve', () => {
  const told = toldOf(50_000);
  const [tail] = told.catchUp(resume(47_000));
  expect(tail).toMatchObject({ kind: 'tail', readingCount: 50_000 });
  expect(tail?.kind === 'tail' && tail.readings.map(([atMs]) => atMs)).toEqual(
    Array.from({ length: 3000 }, (_, i) => (47_000 + i) * 100),
  );
  expect(told.catchUp(resume(10))).toMatchObject([{ kind: 'snapshot', readingCount: 50_000 }]);
});

test('the curve of a snapshot is bounded however long the run, and keeps a peak of a single reading', () => {
  const snapshot = toldOf(300_000, 123_456).snapshot();
  if (snapshot.kind !== 'snapshot') throw new Error(snapshot.kind);
  expect(snapshot.tiles.length).toBeLessThanOrEqual(2400);
  expect(Math.max(...snapshot.tiles.map(([, , highC]) => highC ?? 0))).toBe(35);
  expect(JSON.stringify(snapshot).length).toBeLessThan(200_000);
});

test('the curve of a snapshot holds the newest reading, and is the same however many came at once', () => {
  const oneByOne = new Told('bowl-1', INFO);
  const readings = Array.from({ length: 4_321 }, (_, i) => reading(i * 10, 31 + (i % 7) / 10));
  for (const each of readings) oneByOne.tell([{ turn: 1, sinceMs: 0, events: [], readings: [each] }]);
  const atOnce = new Told('bowl-1', INFO);
  atOnce.tell([{ turn: 1, sinceMs: 0, events: [], readings }]);
  const snapshot = oneByOne.snapshot();
  expect(snapshot).toEqual(atOnce.snapshot());
  expect(snapshot.kind === 'snapshot' && snapshot.tiles.at(-1)?.[0]).toBe(4_320_000);
});

test('only the chocolate has a curve on the page', () => {
  const told = new Told('bowl-1', INFO);
  const bath: Reading = { ...reading(1), role: 'bath', estimateC: null };
  expect(told.tell([{ turn: 1, sinceMs: 0, events: [], readings: [bath, reading(2)] }])).toMatchObject({
    readingCount: 1,
  });
});

test('what waits for the disk is given out once, in order, by whichever comes first: the disk, an alarm or the clock', () => {
  const untold = new Untold();
  const brought = (turn: number, sinceMs: number) => ({ turn, sinceMs, events: [], readings: [reading(turn)] });
  const turns = (all: readonly { turn: number }[]) => all.map(({ turn }) => turn);
  for (let turn = 1; turn <= 5; turn++) expect(untold.add(brought(turn, turn * 100))).toEqual([]);
  expect(turns(untold.committed(2))).toEqual([1, 2]);
  expect(turns(untold.committed(2))).toEqual([]);
  expect(turns(untold.overdue(300 + STALL_MS))).toEqual([]);
  expect(turns(untold.overdue(301 + STALL_MS))).toEqual([3, 4, 5]);
  untold.add(brought(6, 0));
  const alarm = {
    seq: 1,
    atMs: 0,
    kind: 'alarm-raised',
    alarm: 'scorch',
    severity: 'critical',
    phase: 'melt',
    valueC: 53,
    limitC: 52,
  } as const;
  expect(turns(untold.add({ turn: 7, sinceMs: 0, events: [alarm], readings: [] }))).toEqual([6, 7]);
  expect(turns(untold.all())).toEqual([]);
});
