/** A run's curve as a small folded map: for lists, where a glance says which run it was. Knows columns and one band, nothing of phases. */
import type { Band } from '../../server/core/record/profile.ts';
import type { Tile } from '../../server/core/show/wire.ts';

const WIDTH = 392;
const HEIGHT = 66;
/** Folds alternate in height by this much, px of the drawing. */
const SLANT = 7;
const FOLDS = 4;
/** Room above and below the curve, px of the drawing, so that its edge is never cut. */
const INSET = 13;
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
  const curve = scale === null ? '' : curveOf(tiles, scale);
  return (
    <svg class="folded" viewBox={`0 0 ${WIDTH} ${HEIGHT}`} preserveAspectRatio="none" aria-hidden="true">
      {Array.from({ length: FOLDS }, (_, i) => (
        <path key={i} class={i % 2 === 0 ? 'fold-a' : 'fold-b'} d={foldOf(i)} />
      ))}
      {lane !== null && <rect class="folded-lane" x="0" y={lane.y} width={WIDTH} height={lane.height} />}
      <path class="folded-edge" d={curve} />
      <path class="folded-curve" d={curve} />
    </svg>
  );
}

interface Scale {
  readonly startMs: number;
  readonly endMs: number;
  readonly lowC: number;
  readonly highC: number;
}

function scaleOf(tiles: readonly Tile[], bandC: Band | null): Scale | null {
  const values = tiles.flatMap(([, low, high]) => (low === null || high === null ? [] : [low, high]));
  const first = tiles[0];
  const last = tiles.at(-1);
  if (first === undefined || last === undefined || values.length === 0) return null;
  const all = bandC === null ? values : [...values, ...bandC];
  return { startMs: first[0], endMs: last[0], lowC: Math.min(...all), highC: Math.max(...all) };
}

function xOf(atMs: number, scale: Scale): number {
  return ((atMs - scale.startMs) / Math.max(1, scale.endMs - scale.startMs)) * WIDTH;
}

function yOf(valueC: number, scale: Scale): number {
  const share = (valueC - scale.lowC) / Math.max(1, scale.highC - scale.lowC);
  return HEIGHT - INSET - share * (HEIGHT - 2 * INSET);
}

/** Lowest and highest of each column, so that a peak survives; the pen lifts over columns without a reading. */
function curveOf(tiles: readonly Tile[], scale: Scale): string {
  let penC: number | null = null;
  const steps = tiles.map(([atMs, lowC, highC]) => {
    const fromC: number | null = penC;
    penC = null;
    if (lowC === null || highC === null) return '';
    const isFalling = fromC !== null && Math.abs(fromC - highC) < Math.abs(fromC - lowC);
    const [firstC, lastC] = isFalling ? [highC, lowC] : [lowC, highC];
    penC = lastC;
    const x = xOf(atMs, scale).toFixed(1);
    return `${fromC === null ? 'M' : 'L'}${x} ${yOf(firstC, scale).toFixed(1)}L${x} ${yOf(lastC, scale).toFixed(1)}`;
  });
  return steps.join('');
}

function laneOf([lowC, highC]: Band, scale: Scale): { readonly y: number; readonly height: number } {
  const top = yOf(highC, scale);
  const height = Math.max(LANE_LEAST, yOf(lowC, scale) - top);
  return { y: (top + yOf(lowC, scale) - height) / 2, height };
}

function foldOf(i: number): string {
  const width = WIDTH / FOLDS;
  const [left, right] = [i * width, (i + 1) * width];
  const [a, b] = i % 2 === 0 ? [SLANT, 0] : [0, SLANT];
  return `M${left} ${a}L${right} ${b}V${HEIGHT - b}L${left} ${HEIGHT - a}Z`;
}
