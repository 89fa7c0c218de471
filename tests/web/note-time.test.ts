/** When a note is about: moved by steps, never out of the run, and never ending before it begins. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  LATEST,
  moved,
  NOTE_STEPS_MS,
  TAG_MAX_CHARS,
  tagFault,
  tagLine,
  tagsOf,
  TAGS_MOST,
  timeOf,
  timesOf,
} from '../../web/note-time.ts';

const WITHIN = { earliestMs: 100_000, latestMs: 400_000 };

describe('the time of a note', () => {
  test('is the latest there is, until it is moved', () => {
    expect(timesOf(LATEST, 400_000.4)).toEqual({ atMs: 400_000 });
    expect(timesOf({ ...LATEST, isSpan: true }, 400_000)).toEqual({ atMs: 400_000, untilMs: 400_000 });
    const earlier = moved(LATEST, 'from', -60_000, WITHIN);
    expect(timesOf({ ...earlier, isSpan: true }, 400_000)).toEqual({ atMs: 340_000, untilMs: 400_000 });
    expect(timesOf({ ...earlier, isSpan: true }, 410_000)).toEqual({ atMs: 340_000, untilMs: 410_000 });
  });

  test('moved to the end it is a moment of its own, but for one that was never moved', () => {
    expect(moved(LATEST, 'from', 10_000, WITHIN)).toEqual(LATEST);
    expect(moved(timeOf({ atMs: 395_000 }), 'from', 10_000, WITHIN).fromMs).toBe(400_000);
  });

  test('a moment and a span come back from what was noted', () => {
    expect(timesOf(timeOf({ atMs: 150_000 }), 400_000)).toEqual({ atMs: 150_000 });
    expect(timesOf(timeOf({ atMs: 150_000, untilMs: 160_000 }), 400_000)).toEqual({ atMs: 150_000, untilMs: 160_000 });
  });

  test('stays in the run and never ends before it begins, however it is moved', () => {
    const step = fc.record({ end: fc.constantFrom('from', 'until'), byMs: fc.constantFrom(...NOTE_STEPS_MS) });
    fc.assert(
      fc.property(fc.array(step, { maxLength: 40 }), fc.boolean(), (steps, isSpan) => {
        const time = steps.reduce((at, { end, byMs }) => moved(at, end, byMs, WITHIN), { ...LATEST, isSpan });
        const { atMs, untilMs = atMs } = timesOf(time, WITHIN.latestMs);
        expect(atMs).toBeGreaterThanOrEqual(WITHIN.earliestMs);
        expect(untilMs).toBeGreaterThanOrEqual(atMs);
        expect(untilMs).toBeLessThanOrEqual(WITHIN.latestMs);
      }),
    );
  });
});

describe('tags', () => {
  test('stand in one line with commas between them, each once', () => {
    expect(tagsOf(' bath, second tray ,bath,, ')).toEqual(['bath', 'second tray']);
    expect(tagsOf('')).toEqual([]);
    expect(tagsOf(tagLine(['a', 'b c']))).toEqual(['a', 'b c']);
  });

  test('too long or too many for the server are named as such, and never cut', () => {
    const tags = Array.from({ length: TAGS_MOST }, (_, i) => `t${i}`);
    const [last, over] = ['x'.repeat(TAG_MAX_CHARS), 'x'.repeat(TAG_MAX_CHARS + 1)];
    expect([tagFault([]), tagFault(tags), tagFault([last])]).toEqual([null, null, null]);
    expect(tagsOf(over)).toEqual([over]);
    expect(tagFault(tagsOf(over))).toBe('long');
    expect(tagFault(tagsOf([...tags, 'more'].join(',')))).toBe('many');
  });
});
