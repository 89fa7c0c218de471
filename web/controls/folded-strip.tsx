/** A run's curve as a small folded map: for lists, where a glance says which run it was. Knows columns and one band, nothing of phases. */
import type { Band } from '../../server/core/record/profile.ts';
import type { Tile } from '../../server/core/show/wire.ts';
import { stripPath } from '../road/strip.ts';

const WIDTH = 392;
const HEIGHT = 66;
/** Folds alternate in height by this much, px of the drawing. */
const SLANT = 7;
const FOLDS = 4;
/** Room above and below the curve, px of the drawing, so that its edge is never cut. */
const INSET = 13;
const INNER = HEIGHT - 2 * INSET;
/** A run that hardly moved is still drawn over so many degrees, °C. */
const LEAST_C = 1;
/** A band is never thinner than this, px of the drawing: it must be seen as a lane. */
const LANE_LEAST = 5;

export interface FoldedStripProps {
  readonly tiles: readonly Tile[];
  /** The working band, °C; null where the profile is no longer known. */
  readonly bandC: Band | null;
}

export function FoldedStrip({ tiles, bandC }: FoldedStripProps) {
  const scale = scaleOf(tiles, bandC);
  const lane = bandC === null || scale === null ? null : laneOf(bandC, scale);
  const curve = scale === null ? '' : stripPath(tiles, WIDTH, INNER, scale.lowC, scale.highC);
  return (
    <svg class="folded" viewBox={`0 0 ${WIDTH} ${HEIGHT}`} preserveAspectRatio="none" aria-hidden="true">
      {Array.from({ length: FOLDS }, (_, i) => (
        <path key={i} class={i % 2 === 0 ? 'fold-a' : 'fold-b'} d={foldOf(i)} />
      ))}
      <g transform={`translate(0 ${INSET})`}>
        {lane !== null && <rect class="folded-lane" x="0" y={lane.y} width={WIDTH} height={lane.height} />}
        <path class="folded-edge" d={curve} />
        <path class="folded-curve" d={curve} />
      </g>
    </svg>
  );
}

interface Scale {
  readonly lowC: number;
  readonly highC: number;
}

function scaleOf(tiles: readonly Tile[], bandC: Band | null): Scale | null {
  const values = tiles.flatMap(([, low, high]) => (low === null || high === null ? [] : [low, high]));
  if (values.length === 0) return null;
  const all = bandC === null ? values : [...values, ...bandC];
  const lowC = Math.min(...all);
  return { lowC, highC: Math.max(lowC + LEAST_C, ...all) };
}

function laneOf([lowC, highC]: Band, scale: Scale): { readonly y: number; readonly height: number } {
  const yOf = (valueC: number): number => ((scale.highC - valueC) / (scale.highC - scale.lowC)) * INNER;
  const height = Math.max(LANE_LEAST, yOf(lowC) - yOf(highC));
  return { y: (yOf(highC) + yOf(lowC) - height) / 2, height };
}

function foldOf(i: number): string {
  const width = WIDTH / FOLDS;
  const [left, right] = [i * width, (i + 1) * width];
  const [a, b] = i % 2 === 0 ? [SLANT, 0] : [0, SLANT];
  return `M${left} ${a}L${right} ${b}V${HEIGHT - b}L${left} ${HEIGHT - a}Z`;
}
