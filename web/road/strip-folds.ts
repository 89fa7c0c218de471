/** Where a run's small picture is folded: at each change of phase, on the same scale of time as its line (`strip.ts`). Pure. */
import type { TimeSpan } from './window.ts';

export interface StripFold {
  /** null: before the first phase that is known. */
  readonly phase: string | null;
  readonly left: number;
  readonly right: number;
}

export interface StripVisit {
  readonly phase: string;
  readonly atMs: number;
}

/** Narrower than this, a fold can't be seen, share of the width (ours): its neighbour takes its room. */
const LEAST_SHARE = 0.012;

/** Folds from left to right that fill `width` without a gap. `visits`: oldest first, feed clock. */
export function stripFolds(
  { fromMs, toMs }: TimeSpan,
  visits: readonly StripVisit[],
  width: number,
): readonly StripFold[] {
  const spanMs = Math.max(1, toMs - fromMs);
  const xOf = (atMs: number): number => tenth(Math.min(width, Math.max(0, ((atMs - fromMs) / spanMs) * width)));
  const folds: StripFold[] = [];
  visits.forEach(({ phase, atMs }, i) => {
    const left = folds.at(-1)?.right ?? 0;
    const next = visits[i + 1];
    const right = next === undefined ? width : xOf(next.atMs);
    const isSeen = right - left >= LEAST_SHARE * width;
    if (i === 0 && xOf(atMs) - left >= LEAST_SHARE * width) {
      folds.push({ phase: null, left, right: xOf(atMs) });
      folds.push({ phase, left: xOf(atMs), right });
    } else if (isSeen) folds.push({ phase, left, right });
  });
  const last = folds.at(-1);
  if (last === undefined) return [{ phase: visits.at(-1)?.phase ?? null, left: 0, right: width }];
  return [...folds.slice(0, -1), { ...last, right: width }];
}

function tenth(value: number): number {
  return Math.round(value * 10) / 10;
}
