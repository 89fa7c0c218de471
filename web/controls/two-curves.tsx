/** Two curves of estimates of one trace on one chart: the first solid, the second dashed over it, the band of the work as a lane. */
import type { Band } from '../../server/core/record/profile.ts';
import type { Tile } from '../../server/core/show/wire.ts';
import { stripPath, stripSpan } from '../road/strip.ts';

const WIDTH = 1_000;
const HEIGHT = 300;
/** Room past the outermost value, °C (ours). */
const PAST_C = 1;

export interface TwoCurvesProps {
  readonly first: readonly Tile[];
  readonly second: readonly Tile[];
  /** Of the work; null: there is none. */
  readonly bandC: Band | null;
  /** What is drawn, for those who can't see it. */
  readonly label: string;
  readonly clockOf: (atMs: number) => string;
}

export function TwoCurves({ first, second, bandC, label, clockOf }: TwoCurvesProps) {
  const values = [...first, ...second].flatMap(([, , , estimateC]) => estimateC ?? []);
  const all = [...values, ...(bandC ?? [])];
  if (values.length === 0) return null;
  const [lowC, highC] = [Math.min(...all) - PAST_C, Math.max(...all) + PAST_C];
  const yOf = (valueC: number): number => ((highC - valueC) / (highC - lowC)) * HEIGHT;
  const ends = stripSpan(
    [...first, ...second].toSorted((a, b) => a[0] - b[0]),
    [],
    null,
  );
  const path = (tiles: readonly Tile[]): string =>
    stripPath(estimatesOf(tiles), { ...ends, width: WIDTH, height: HEIGHT, lowC, highC });
  return (
    <div class="two-curves" role="img" aria-label={label}>
      <svg viewBox={`0 0 ${WIDTH} ${HEIGHT}`} preserveAspectRatio="none" aria-hidden="true">
        {bandC !== null && (
          <rect class="folded-lane" x="0" y={yOf(bandC[1])} width={WIDTH} height={yOf(bandC[0]) - yOf(bandC[1])} />
        )}
        <path class="folded-edge" d={path(first)} />
        <path class="folded-curve" d={path(first)} />
        <path class="second-curve" d={path(second)} />
      </svg>
      <p class="two-curves-foot" aria-hidden="true">
        <span>{clockOf(ends.fromMs)}</span>
        <span>{clockOf(ends.toMs)}</span>
      </p>
    </div>
  );
}

/** The estimates as columns of their own. */
function estimatesOf(tiles: readonly Tile[]): readonly Tile[] {
  return tiles.map(([atMs, , , estimateC]): Tile => [atMs, estimateC, estimateC, estimateC]);
}
