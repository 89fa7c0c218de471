/** Playback paces the stored log; it never judges it anew. */
import { describe, expect, test } from 'vitest';
import { foldEvents, foldNote, openView } from '../../server/core/show/view.ts';
import {
  advance,
  changeSpeed,
  momentAt,
  moveTo,
  nextMark,
  openPlayback,
  play,
  stop,
  viewAt,
} from '../../web/playback.ts';
import type { OpenedRun } from '../../web/post.ts';
import { eventsUpTo, infoOf, msAt, NOTES, readingsUpTo } from '../support/scenes.ts';

const ROWS = readingsUpTo(118);
const RUN: OpenedRun = {
  info: infoOf(false),
  events: eventsUpTo(118, [{ kind: 'run-ended', by: 'hand' }]),
  endedAtMs: msAt(118),
  tiles: [],
  notes: NOTES,
};

describe('the head', () => {
  test('opens at the end, where the whole run is told, and plays from the start from there', () => {
    const opened = openPlayback(RUN);
    expect([opened.startMs, opened.headMs, opened.isPlaying]).toEqual([msAt(0), msAt(118), false]);
    expect(play(opened)).toMatchObject({ headMs: msAt(0), isPlaying: true });
  });

  test.each([1, 4, 10, 30, 60] as const)('at %d× a second of viewing is that many of the run', (speed) => {
    const playing = { ...play(openPlayback(RUN)), speed };
    expect(advance(playing, 1_000).headMs - playing.headMs).toBe(speed * 1_000);
  });

  test('stands still while stopped, and stops by itself at the end', () => {
    const halfway = moveTo(openPlayback(RUN), msAt(60));
    expect(advance(stop(play(halfway)), 1_000).headMs).toBe(msAt(60));
    expect(advance(play(halfway), 3_600_000)).toMatchObject({ headMs: msAt(118), isPlaying: false });
  });

  test('never leaves the run', () => {
    const opened = openPlayback(RUN);
    expect(moveTo(opened, -5).headMs).toBe(msAt(0));
    expect(moveTo(opened, Infinity).headMs).toBe(msAt(118));
  });

  test('speeds end at 1 and 60', () => {
    const opened = openPlayback(RUN);
    const fastest = [1, 1, 1, 1].reduce((now) => changeSpeed(now, 1), opened);
    const slowest = [1, 1, 1, 1].reduce((now) => changeSpeed(now, -1), opened);
    expect([fastest.speed, slowest.speed]).toEqual([60, 1]);
  });

  test('next mark goes from mark to mark and begins again after the last', () => {
    const { marks } = viewAt(RUN, Infinity);
    const first = nextMark(openPlayback(RUN), marks);
    expect(first.headMs).toBe(marks[0]!.atMs);
    expect(nextMark(first, marks).headMs).toBe(marks[1]!.atMs);
    expect(nextMark(moveTo(first, marks.at(-1)!.atMs), marks).headMs).toBe(marks[0]!.atMs);
    expect(nextMark(first, [])).toBe(first);
  });
});

describe('what stood at the head', () => {
  test('is the same fold as live: at the end it is the whole', () => {
    const whole = NOTES.reduce(foldNote, foldEvents(openView(RUN.info), RUN.events));
    expect(viewAt(RUN, Infinity)).toEqual(whole);
  });

  test('knows nothing of what came later', () => {
    const view = viewAt(RUN, msAt(60));
    expect(view.phase).toBe('work');
    expect(view.worstAlarm).toBeNull();
    expect(view.marks.every((mark) => mark.atMs <= msAt(60))).toBe(true);
  });

  test('is the newest good reading with its age, and the trend of the recorded estimates', () => {
    const moment = momentAt(ROWS, viewAt(RUN, msAt(36)), msAt(36) + 400);
    expect(moment.reading).toMatchObject({ atMs: msAt(36) });
    expect(moment.estimate?.rateCPerMin).toBeLessThan(-0.5);
    expect(moment.stale).toBe(false);
  });

  test('a stretch without good readings looks stale, as it did then', () => {
    const gap = ROWS.map(([atMs, valueC, , estimateC]) => {
      const isGone = atMs > msAt(60) && atMs < msAt(62);
      return [atMs, valueC, isGone ? 2 : 0, estimateC] as const;
    });
    const moment = momentAt(gap, viewAt(RUN, msAt(61)), msAt(61));
    expect(moment).toMatchObject({ stale: true, estimate: null, reading: { atMs: msAt(60) } });
  });

  test('before the first reading there is none', () => {
    expect(momentAt([], viewAt(RUN, 0), 0)).toMatchObject({ reading: null, stale: true, estimate: null });
  });
});
