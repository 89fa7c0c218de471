/** What waits for the disk: nothing leaves before it is written, and when even memory is full the oldest goes first, with a mark. */
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { Backlog, MAX_WAITING_TURNS } from '../../../server/store/backlog.ts';
import type { Entry } from '../../../server/store/batch.ts';
import type { StoreHealth } from '../../../server/store/records.ts';
import { madeTurn, newRun } from '../../support/store.ts';

beforeEach(() => void vi.useFakeTimers());
afterEach(() => void vi.useRealTimers());

/** A backlog whose writer is this test: `posted` holds the batches it was given. */
function backlogAndWriter() {
  const posted: Entry[][] = [];
  const healths: StoreHealth[] = [];
  const backlog = new Backlog({
    post: (entries) => posted.push([...entries]),
    committed: () => {},
    health: (health) => healths.push(health),
  });
  return { backlog, posted, healths };
}

function turnEntry(turn: number, run = 'r1'): Entry {
  const checkpoint = turn % 600 === 0 ? { atMs: turn * 100, state: `after ${turn}`, learned: null } : null;
  const content = turn % 100 === 0 ? madeTurn(turn) : { ...madeTurn(turn), events: [] };
  return { kind: 'turn', run, turn, wallMs: Date.now(), content, checkpoint };
}

test('[S2] the first entry is under way within a quarter of a second, with all that came meanwhile', () => {
  const { backlog, posted } = backlogAndWriter();
  backlog.add(turnEntry(1));
  backlog.add(turnEntry(2));
  expect(posted).toEqual([]);
  vi.advanceTimersByTime(200);
  expect(posted.map((batch) => batch.length)).toEqual([2]);
});

test('[S4] one batch is under way at a time, and a failed one is sent again before anything newer', () => {
  const { backlog, posted, healths } = backlogAndWriter();
  backlog.add(turnEntry(1));
  vi.advanceTimersByTime(200);
  backlog.add(turnEntry(2));
  vi.advanceTimersByTime(500);
  expect(posted).toHaveLength(1);
  backlog.failed('the disk is full');
  vi.advanceTimersByTime(300);
  expect(posted[1]?.map((entry) => entry.kind === 'turn' && entry.turn)).toEqual([1, 2]);
  expect(healths).toMatchObject([{ recording: false, reason: 'the disk is full', waiting: 2 }]);
  backlog.committed([]);
  expect(healths.at(-1)).toEqual({ recording: true });
});

test('[S3] attempts on a full disk are spread out, and never stop', () => {
  const { backlog, posted } = backlogAndWriter();
  backlog.add(turnEntry(1));
  vi.advanceTimersByTime(200);
  for (let attempt = 1; attempt <= 20; attempt++) {
    expect(posted).toHaveLength(attempt);
    backlog.failed('the disk is full');
    if (attempt > 6) {
      vi.advanceTimersByTime(4_900);
      expect(posted).toHaveLength(attempt);
    }
    vi.advanceTimersByTime(5_000);
  }
});

test('a batch that is not answered for a second is trouble, since the first of it was handed over', () => {
  const { backlog, healths } = backlogAndWriter();
  const sinceWallMs = Date.now();
  backlog.add(turnEntry(1));
  vi.advanceTimersByTime(1_000);
  expect(healths).toEqual([]);
  vi.advanceTimersByTime(200);
  expect(healths).toEqual([{ recording: false, reason: 'the disk does not answer', sinceWallMs, waiting: 1 }]);
});

test('[S3] an hour at ten a second waits without loss; beyond that the oldest turns go, but not their events', () => {
  const { backlog, posted } = backlogAndWriter();
  expect(MAX_WAITING_TURNS).toBeGreaterThanOrEqual(36_000);
  backlog.add({ kind: 'begin', run: newRun('r1'), wallMs: 0 });
  for (let turn = 1; turn <= MAX_WAITING_TURNS + 1_500; turn++) backlog.add(turnEntry(turn));
  const written: Entry[] = [];
  for (let batch = 0; batch < posted.length; batch++) {
    written.push(...posted[batch]!);
    backlog.committed([]);
    vi.advanceTimersByTime(200);
  }
  const [begin, ...rest] = written;
  expect(begin?.kind).toBe('begin');
  const lost = rest.filter((entry) => entry.kind === 'lost');
  const kept = rest.filter((entry) => entry.kind === 'turn').map((entry) => entry.turn);
  expect(lost).toHaveLength(1);
  const { fromTurn, toTurn } = lost[0]!.span;
  expect(toTurn - fromTurn + 1).toBe(2_000);
  expect(lost[0]!.events.map((event) => event.seq)).toEqual(hundredsWithin(fromTurn, toTurn));
  expect(lost[0]!.checkpoint?.turn).toBe(Math.floor(toTurn / 600) * 600);
  const all = Array.from({ length: MAX_WAITING_TURNS + 1_500 }, (_, i) => i + 1);
  expect(kept).toEqual(all.filter((turn) => turn < fromTurn || turn > toTurn));
});

function hundredsWithin(from: number, to: number): number[] {
  return Array.from({ length: to - from + 1 }, (_, i) => from + i).filter((turn) => turn % 100 === 0);
}

test('turns of two runs given up together leave a mark in each', () => {
  const { backlog, posted } = backlogAndWriter();
  for (let turn = 1; turn <= MAX_WAITING_TURNS / 2 + 1; turn++) {
    backlog.add(turnEntry(turn, 'r1'));
    backlog.add(turnEntry(turn, 'r2'));
  }
  while (posted.at(-1)?.every((entry) => entry.kind === 'turn') === true) {
    backlog.committed([]);
    vi.advanceTimersByTime(200);
  }
  const marks = posted.at(-1)!.filter((entry) => entry.kind === 'lost');
  expect(marks.map(({ run, span }) => [run, span.toTurn - span.fromTurn + 1])).toEqual([
    ['r1', 500],
    ['r2', 500],
  ]);
});

test('waiting for the disk ends when it has everything, and fails when it is in trouble', async () => {
  const { backlog } = backlogAndWriter();
  await backlog.flush();
  backlog.add(turnEntry(1));
  const first = backlog.flush();
  backlog.committed([]);
  await first;
  backlog.add(turnEntry(2));
  const second = backlog.flush();
  backlog.failed('the disk is full');
  await expect(second).rejects.toThrow('the disk is full');
});
