/** The strip test as a step: when it is offered, how long it lies, what an answer sends. */
import { describe, expect, test } from 'vitest';
import type { EventBody, RunEvent } from '../../server/core/record/event.ts';
import { emptyView, foldEvents, foldNote } from '../../server/core/show/view.ts';
import { isTestDue, lookedAt } from '../../web/strip-step.ts';
import { lastTestMs, mayDip, stripLying, stripStage } from '../../web/strip-test.ts';
import { NO_MOMENT } from '../../web/moment.ts';
import { sentence } from '../../web/words/sentence.ts';
import { standingWords } from '../../web/words/standing-why.ts';
import { waitingWords } from '../../web/words/strip-steps.ts';
import { testLines } from '../../web/words/strip-test.ts';
import { DARK } from '../support/scenes.ts';

const MIN = 60_000;
const NOW = 100 * MIN;

function viewOf(...told: readonly (readonly [agoMin: number, body: EventBody])[]) {
  const events = told.map(([ago, body], i): RunEvent => ({ ...body, seq: i + 1, atMs: NOW - ago * MIN }));
  return foldEvents(emptyView, events);
}

function enter(phase: string): EventBody {
  return { kind: 'phase-entered', phase, from: null, by: 'reached' };
}

const GOOD: EventBody = { kind: 'act', act: 'strip-test-good' };
/** What comes of it. */
const PROVEN: EventBody = { kind: 'standing', standing: 'in-temper', why: 'strip-test-good' };

const laid = (agoMin: number) => [agoMin, { kind: 'act', act: 'strip-laid' }] as const;
const tacky = (agoMin: number) => [agoMin, { kind: 'act', act: 'strip-tacky' }] as const;

describe('a strip', () => {
  test.each([
    [0, 'too-soon'],
    [2.9, 'too-soon'],
    [3, 'may-look'],
    [3.9, 'may-look'],
    [4, 'look'],
    [60, 'look'],
  ])('after %d min: %s', (min, stage) => {
    expect(stripStage(stripLying(viewOf([30, enter('work')], laid(min)))!, NOW)).toBe(stage);
  });

  test('lies there for every screen by the acts of the run, until it is told how it set', () => {
    const work = [90, enter('work')] as const;
    expect(stripLying(viewOf(work))).toBeNull();
    expect(stripLying(viewOf(work, laid(1)))).toMatchObject({
      id: 'event-2',
      laidAtMs: NOW - MIN,
      isSecondLook: false,
    });
    expect(stripLying(viewOf(work, laid(9), [5, GOOD]))).toBeNull();
    expect(stripLying(viewOf(work, [40, GOOD], laid(2)))?.laidAtMs).toBe(NOW - 2 * MIN);
    expect(stripLying(viewOf(work, laid(2), [1, { kind: 'run-ended', by: 'hand' }]))).toBeNull();
  });

  test('says nothing any more once temper is lost', () => {
    const lost: EventBody = { kind: 'standing', standing: 'lost', why: 'above-lost' };
    expect(stripLying(viewOf([90, enter('work')], laid(2), [1, lost]))).toBeNull();
  });

  test('says nothing of what went over the ceiling after it was laid; one laid since then does', () => {
    const over: EventBody = { kind: 'standing', standing: 'at-risk', why: 'over-ceiling' };
    const again: EventBody = { kind: 'cue', cue: 'strip-test', phase: 'work' };
    const before = viewOf([90, enter('work')], laid(6), [3, over], [1, again]);
    expect(stripLying(before)).toBeNull();
    expect(isTestDue(before, NOW, DARK)).toBe(true);
    expect(stripLying(viewOf([90, enter('work')], laid(8), [6, over], laid(3)))?.laidAtMs).toBe(NOW - 3 * MIN);
  });

  test('laid before a short overshoot it says nothing of that either: a new one is asked for, and nothing is dipped until it was good', () => {
    const made: EventBody = { kind: 'standing', standing: 'in-temper', why: 'seeded-and-rewarmed' };
    const work = [
      [90, made],
      [90, enter('work')],
    ] as const;
    const over = (agoMin: number) =>
      [
        [
          agoMin,
          { kind: 'alarm-raised', alarm: 'overshoot', severity: 'warning', phase: 'work', valueC: 32.6, limitC: 32.5 },
        ],
        [agoMin - 0.5, { kind: 'alarm-cleared', alarm: 'overshoot', lastedMs: 30_000, extremeC: 32.7 }],
      ] as const;
    const owed = viewOf(...work, laid(9), ...over(6));
    expect([stripLying(owed), isTestDue(owed, NOW, DARK), mayDip(owed)]).toEqual([null, true, false]);
    // Once the cue has been shown for long enough the phase's own words ask for it.
    const now = { ...NO_MOMENT, atMs: NOW, stale: false };
    expect(sentence(owed, { ...now, reading: { valueC: 31.5, atMs: NOW, quality: 'good' } }, DARK).act).toBe(
      'Strip test before you dip.',
    );
    // While it is over still, it is stirred down first.
    const isOver = viewOf(...work, laid(9), over(6)[0]);
    expect([stripLying(isOver), isTestDue(isOver, NOW, DARK), mayDip(isOver)]).toEqual([null, false, false]);
    const tested = viewOf(...work, [20, GOOD], ...over(6));
    expect([isTestDue(tested, NOW, DARK), mayDip(tested), testLines(tested, NOW)]).toEqual([true, false, []]);
    const anew = viewOf(...work, ...over(9), laid(6));
    expect([stripLying(anew)?.laidAtMs, mayDip(anew)]).toEqual([NOW - 6 * MIN, false]);
    const good = viewOf(...work, ...over(9), laid(6), [1, GOOD]);
    expect([isTestDue(good, NOW, DARK), mayDip(good)]).toEqual([false, true]);
    expect(mayDip(viewOf(...over(95), ...work))).toBe(true);
  });

  test('made again after it was lost, it is tested before anything is dipped: sentence, bar and sheet say the same', () => {
    const made = [10, { kind: 'standing', standing: 'in-temper', why: 'made-again' }] as const;
    const now = {
      ...NO_MOMENT,
      atMs: NOW,
      stale: false,
      reading: { valueC: 31.5, atMs: NOW, quality: 'good' },
    } as const;
    const view = viewOf([90, GOOD], made, [10, enter('work')]);
    expect([mayDip(view), isTestDue(view, NOW, DARK)]).toEqual([false, true]);
    expect(sentence(view, now, DARK).act).toBe('Strip test before you dip.');
    expect(standingWords(view, now, DARK, true).next).toBe('Strip test first, then dip.');
    const tested = viewOf([90, GOOD], made, [10, enter('work')], [2, GOOD]);
    expect([mayDip(tested), isTestDue(tested, NOW, DARK)]).toEqual([true, false]);
    expect(sentence(tested, now, DARK).act).toBe('Dip.');
    expect(standingWords(tested, now, DARK, true).next).toBe('Dip. Strip test every half hour.');
  });

  test('struck out it is given up; an answer struck out is asked for again', () => {
    const strike = (replaces: string) => ({ id: 'x', atMs: NOW, text: '', by: null, writtenAtWall: '', replaces });
    const view = viewOf([90, enter('work')], laid(6), [1, GOOD]);
    expect(stripStage(stripLying(foldNote(view, strike('event-3')))!, NOW)).toBe('look');
    expect(stripLying(foldNote(viewOf([90, enter('work')], laid(6), tacky(1)), strike('event-2')))).toBeNull();
  });

  test('glossy is good and streaks are not; tacky is looked at once more 2 min later, and then is not good', () => {
    const first = stripLying(viewOf([90, enter('work')], laid(4)))!;
    expect((['glossy', 'streaks', 'tacky'] as const).map((look) => lookedAt(first, look))).toEqual([
      'strip-test-good',
      'strip-test-bad',
      'strip-tacky',
    ]);
    const again = stripLying(viewOf([90, enter('work')], laid(4), tacky(0)))!;
    expect(stripStage(again, NOW + 1.9 * MIN)).toBe('may-look');
    expect(stripStage(again, NOW + 2 * MIN)).toBe('look');
    expect((['glossy', 'streaks', 'tacky'] as const).map((look) => lookedAt(again, look))).toEqual([
      'strip-test-good',
      'strip-test-bad',
      'strip-test-bad',
    ]);
  });

  test('says how long to the look', () => {
    const work = [90, enter('work')] as const;
    expect(waitingWords(stripLying(viewOf(work, laid(0)))!, NOW + 40_000)).toBe('The strip sets. Look in 3:20.');
    expect(waitingWords(stripLying(viewOf(work, laid(4), tacky(0)))!, NOW)).toBe('Still tacky. Look in 2:00.');
  });
});

describe('offering it', () => {
  test.each([
    ['melting', viewOf([20, enter('melt')]), false],
    ['cooling', viewOf([20, enter('cool')]), false],
    ['rewarming, not there yet', viewOf([3, enter('rewarm')]), false],
    ['rewarmed', viewOf([3, enter('rewarm')], [1, { kind: 'band-reached', phase: 'rewarm', valueC: 31 }]), true],
    ['work begins', viewOf([0, enter('work')]), true],
    ['tested 10 min ago', viewOf([20, enter('work')], [10, GOOD], [10, PROVEN]), false],
    [
      'unseen since then',
      viewOf(
        [20, enter('work')],
        [10, GOOD],
        [10, PROVEN],
        [1, { kind: 'standing', standing: 'unproven', why: 'gap' }],
      ),
      true,
    ],
    ['tested, and not good', viewOf([20, enter('work')], [10, { kind: 'act', act: 'strip-test-bad' }]), true],
    ['tested before the work began', viewOf([20, GOOD], [10, enter('work')]), true],
    ['half an hour later', viewOf([40, enter('work')], [30, GOOD]), true],
    [
      'asked for',
      viewOf([40, enter('work')], [20, GOOD], [1, { kind: 'cue', cue: 'strip-test', phase: 'work' }]),
      true,
    ],
    ['temper lost', viewOf([9, enter('work')], [1, { kind: 'standing', standing: 'lost', why: 'above-lost' }]), false],
    ['over', viewOf([20, enter('work')], [1, { kind: 'run-ended', by: 'hand' }]), false],
  ])('%s: %j', (_, view, due) => {
    expect(isTestDue(view, NOW, DARK)).toBe(due);
  });

  test('T4 not where it is so warm that no seed can be left', () => {
    const view = viewOf([40, enter('work')]);
    expect([33.9, 34, null].map((tempC) => isTestDue(view, NOW, DARK, tempC))).toEqual([true, false, true]);
  });

  test('a profile that makes no temper has none to test', () => {
    const syrup = { ...DARK, phases: [{ id: 'boil', heading: 'up', bandC: [115, 118] }] } as const;
    expect(isTestDue(viewOf([20, enter('boil')]), NOW, syrup)).toBe(false);
  });

  test('a test struck out counts no longer', () => {
    const view = viewOf([20, enter('work')], [10, GOOD], [10, PROVEN]);
    expect(lastTestMs(view)).toBe(NOW - 10 * MIN);
    expect(testLines(view, NOW)).toEqual(['Strip test again in 20 min.']);
    const unseen = viewOf([20, enter('work')], [10, GOOD], [1, { kind: 'standing', standing: 'unproven', why: 'gap' }]);
    expect(testLines(unseen, NOW)).toEqual([]);
    const struck = { id: 'x', atMs: NOW, text: '', by: null, writtenAtWall: '', replaces: 'event-2' };
    expect(lastTestMs(foldNote(view, struck))).toBeNull();
    expect(testLines(foldNote(view, struck), NOW)).toEqual([]);
  });
});
