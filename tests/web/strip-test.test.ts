/** The strip test as a step: when it is offered, how long it lies, what an answer sends. */
import { describe, expect, test } from 'vitest';
import type { EventBody, RunEvent } from '../../server/core/record/event.ts';
import { emptyView, foldEvents, foldNote } from '../../server/core/show/view.ts';
import { isStripTestKept, isTestDue, lastTestMs, layStrip, lookedAt, stripStage } from '../../web/strip-test.ts';
import type { StripTest } from '../../web/strip-test.ts';
import { testLines, waitingWords } from '../../web/words/strip-test.ts';
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

describe('a strip', () => {
  const laid = layStrip('r', NOW);

  test.each([
    [0, 'too-soon'],
    [2.9, 'too-soon'],
    [3, 'may-look'],
    [3.9, 'may-look'],
    [4, 'look'],
    [60, 'look'],
  ])('after %d min: %s', (min, stage) => {
    expect(stripStage(laid, NOW + min * MIN)).toBe(stage);
  });

  test('glossy is good and streaks are not; tacky is looked at once more 2 min later, and then is not good', () => {
    const at = NOW + 4 * MIN;
    expect(lookedAt(laid, 'glossy', at)).toBe('strip-test-good');
    expect(lookedAt(laid, 'streaks', at)).toBe('strip-test-bad');
    const again = lookedAt(laid, 'tacky', at) as StripTest;
    expect(stripStage(again, at + 1.9 * MIN)).toBe('may-look');
    expect(stripStage(again, at + 2 * MIN)).toBe('look');
    expect(lookedAt(again, 'glossy', at + 2 * MIN)).toBe('strip-test-good');
    expect(lookedAt(again, 'tacky', at + 2 * MIN)).toBe('strip-test-bad');
  });

  test('says how long to the look', () => {
    expect(waitingWords(laid, NOW + 40_000)).toBe('The strip sets. Look in 3:20.');
    const again = lookedAt(laid, 'tacky', NOW + 4 * MIN) as StripTest;
    expect(waitingWords(again, NOW + 4 * MIN)).toBe('Still tacky. Look in 2:00.');
  });

  test('what an older page or a hand left in the browser is taken only whole', () => {
    expect(isStripTestKept(JSON.parse(JSON.stringify(laid)))).toBe(true);
    for (const broken of [null, 7, {}, { ...laid, run: 1 }, { ...laid, lookAtMs: '4' }])
      expect(isStripTestKept(broken)).toBe(false);
  });
});

describe('offering it', () => {
  test.each([
    ['melting', viewOf([20, enter('melt')]), false],
    ['cooling', viewOf([20, enter('cool')]), false],
    ['rewarming, not there yet', viewOf([3, enter('rewarm')]), false],
    ['rewarmed', viewOf([3, enter('rewarm')], [1, { kind: 'band-reached', phase: 'rewarm', valueC: 31 }]), true],
    ['work begins', viewOf([0, enter('work')]), true],
    ['tested 10 min ago', viewOf([20, enter('work')], [10, GOOD]), false],
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

  test('a profile that makes no temper has none to test', () => {
    const syrup = { ...DARK, phases: [{ id: 'boil', heading: 'up', bandC: [115, 118] }] } as const;
    expect(isTestDue(viewOf([20, enter('boil')]), NOW, syrup)).toBe(false);
  });

  test('a test struck out counts no longer', () => {
    const view = viewOf([20, enter('work')], [10, GOOD]);
    expect(lastTestMs(view)).toBe(NOW - 10 * MIN);
    expect(testLines(view, NOW)).toEqual(['Strip test again in 20 min.']);
    const struck = { id: 'x', atMs: NOW, text: '', by: null, writtenAtWall: '', replaces: 'event-2' };
    expect(lastTestMs(foldNote(view, struck))).toBeNull();
    expect(testLines(foldNote(view, struck), NOW)).toEqual([]);
  });
});
