/** A small picture is folded where the phases changed. */
import { describe, expect, test } from 'vitest';
import { stripFolds } from '../../web/road/strip-folds.ts';

const SPAN = { fromMs: 1_000, toMs: 11_000 };
const at = (share: number): number => 1_000 + share * 10_000;

describe('folds of a small picture', () => {
  test('stand at the changes of phase, whatever their number, and fill the width', () => {
    const visits = [
      { phase: 'melt', atMs: at(0) },
      { phase: 'cool', atMs: at(0.3) },
      { phase: 'rewarm', atMs: at(0.55) },
      { phase: 'work', atMs: at(0.6) },
      { phase: 'cool', atMs: at(0.9) },
    ];
    expect(stripFolds(SPAN, visits, 400).map(({ phase, left, right }) => [phase, left, right])).toEqual([
      ['melt', 0, 120],
      ['cool', 120, 220],
      ['rewarm', 220, 240],
      ['work', 240, 360],
      ['cool', 360, 400],
    ]);
  });

  test('what came before the first phase has a fold of its own', () => {
    const folds = stripFolds(SPAN, [{ phase: 'melt', atMs: at(0.25) }], 400);
    expect(folds).toEqual([
      { phase: null, left: 0, right: 100 },
      { phase: 'melt', left: 100, right: 400 },
    ]);
  });

  test('a phase stepped over in a moment leaves no sliver, and no gap', () => {
    const visits = [
      { phase: 'melt', atMs: at(0) },
      { phase: 'cool', atMs: at(0.5) },
      { phase: 'rewarm', atMs: at(0.502) },
      { phase: 'work', atMs: at(1) },
    ];
    const folds = stripFolds(SPAN, visits, 400);
    expect(folds.map(({ phase }) => phase)).toEqual(['melt', 'rewarm']);
    expect(folds.every(({ left }, i) => left === (folds[i - 1]?.right ?? 0))).toBe(true);
    expect(folds.at(-1)!.right).toBe(400);
  });

  test('of a run nobody knows the phases of is one', () => {
    expect(stripFolds(SPAN, [], 400)).toEqual([{ phase: null, left: 0, right: 400 }]);
    expect(stripFolds({ fromMs: 5, toMs: 5 }, [{ phase: 'melt', atMs: 5 }], 400)).toEqual([
      { phase: 'melt', left: 0, right: 400 },
    ]);
  });
});
