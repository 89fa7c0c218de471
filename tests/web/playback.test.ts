/** Playback paces the stored log; it never judges it anew. */
import { describe, expect, test } from 'vitest';
import { foldEvents, foldNote, openView } from '../../server/core/show/view.ts';
import {
  advance,
  changeSpeed,
  foldedAt,
  momentAt,
  moveTo,
  openPlayback,
  play,
  renewed,
  stop,
  toEvent,
  viewAt,
} from '../../web/playback.ts';
import { linesOf, momentsOf } from '../../web/past-lines.ts';
import type { OpenedRun } from '../../web/fetched.ts';
import { eventsUpTo, infoOf, msAt, NOTES, readingsUpTo } from '../support/scenes.ts';

const ROWS = readingsUpTo(118);
const RUN: OpenedRun = {
  info: infoOf(false),
  events: eventsUpTo(118, [{ kind: 'run-ended', by: 'hand' }]),
  endedAtMs: msAt(118),
  tiles: [],
  binnedAtWall: null,
  importedAtWall: null,
  notes: NOTES,
};

describe('the head', () => {
  test('opens at the end, where the whole run is told, and plays from the start from there', () => {
    const opened = openPlayback(RUN);
    expect([opened.startMs, opened.headMs, opened.isPlaying]).toEqual([msAt(0), msAt(118), false]);
    expect(play(opened)).toMatchObject({ headMs: msAt(0), isPlaying: true });
  });

  test('begins with the run’s first phase: what was kept from before it is no part of it', () => {
    const kept = { ...RUN, info: { ...RUN.info, startedAtMs: msAt(-1) } };
    expect(openPlayback(kept).startMs).toBe(msAt(0));
    const unbegun = { ...kept, events: [], tiles: [], endedAtMs: null };
    expect(openPlayback(unbegun).startMs).toBe(msAt(-1));
  });

  test.each([1, 4, 10, 30, 60, 120, 240] as const)('at %d× a second of viewing is that many of the run', (speed) => {
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

  test('goes along with the end of a run that was still going; one that looks at the middle stays there', () => {
    const opened = openPlayback({ ...RUN, events: eventsUpTo(60, []), endedAtMs: null });
    expect(opened.endMs).toBeLessThan(msAt(118));
    expect(renewed(opened, RUN)).toMatchObject({ endMs: msAt(118), headMs: msAt(118) });
    expect(renewed(moveTo(opened, msAt(30)), RUN)).toMatchObject({ endMs: msAt(118), headMs: msAt(30) });
    expect(renewed(opened, { ...RUN, events: eventsUpTo(60, []), endedAtMs: null })).toBe(opened);
  });

  test('speeds end at 1 and 240', () => {
    const opened = openPlayback(RUN);
    const fastest = [1, 1, 1, 1, 1].reduce((now) => changeSpeed(now, 1), opened);
    const slowest = [1, 1, 1, 1].reduce((now) => changeSpeed(now, -1), opened);
    expect([fastest.speed, slowest.speed]).toEqual([240, 1]);
  });

  test('steps from event to event, both ways, stops at each, and stays where there is none', () => {
    const moments = momentsOf(linesOf(RUN));
    expect(moments.length).toBeGreaterThan(10);
    const first = toEvent(moveTo(openPlayback(RUN), msAt(0) - 1), [msAt(1), msAt(2)], 1);
    expect(first.headMs).toBe(msAt(1));
    const second = toEvent(play(first), [msAt(1), msAt(2)], 1);
    expect(second).toMatchObject({ headMs: msAt(2), isPlaying: false });
    expect(toEvent(second, [msAt(1), msAt(2)], 1)).toBe(second);
    expect(toEvent(second, [msAt(1), msAt(2)], -1).headMs).toBe(msAt(1));
    expect(toEvent(first, [], -1)).toBe(first);
    const walked = new Set<number>();
    let at = moveTo(openPlayback(RUN), 0);
    for (const _ of moments) walked.add((at = toEvent(at, moments, 1)).headMs);
    expect(walked.size).toBeGreaterThanOrEqual(moments.length - 1);
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

  test('the fold goes on where an event or a note came, and nowhere else', () => {
    const first = RUN.events.find(({ atMs }) => atMs > msAt(20))!.atMs;
    expect(foldedAt(RUN, first - 1)).not.toBe(foldedAt(RUN, first));
    expect(foldedAt(RUN, first)).toBe(foldedAt(RUN, first + 1));
  });

  test('before the first reading there is none', () => {
    // The first readings of a run say nothing of how fast it goes.
    expect(momentAt(ROWS, viewAt(RUN, msAt(0)), msAt(0) + 9_400).estimate).toBeNull();
    expect(momentAt(ROWS, viewAt(RUN, msAt(0)), msAt(0) + 10_400).estimate).not.toBeNull();
    expect(momentAt([], viewAt(RUN, 0), 0)).toMatchObject({ reading: null, stale: true, estimate: null });
  });
});
