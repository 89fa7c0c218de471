/** A run as one small line for a list: SVG path data, peaks kept, gaps kept. Knows nothing about phases or colours. */
import { columnMs, isHole } from '../../server/core/show/holes.ts';
import type { Tile } from '../../server/core/show/wire.ts';
import type { TimeSpan } from './window.ts';

const DECIMALS = 1;

/** The field of a drawing: what lies at its left and right, feed clock, at its foot and its top, °C, and how large it is. */
export interface StripField extends TimeSpan {
  readonly width: number;
  readonly height: number;
  readonly lowC: number;
  readonly highC: number;
}

/** From the first of what is known of a run to its end, be it that nothing was read by then. `endedAtMs` null: it is going. */
export function stripSpan(
  tiles: readonly Tile[],
  visits: readonly { readonly atMs: number }[],
  endedAtMs: number | null,
): TimeSpan {
  const moments = [tiles[0]?.[0], visits[0]?.atMs, tiles.at(-1)?.[0], endedAtMs].filter(
    (atMs) => typeof atMs === 'number',
  );
  return moments.length === 0 ? { fromMs: 0, toMs: 1 } : { fromMs: Math.min(...moments), toMs: Math.max(...moments) };
}

/**
 * Path data of a run's tiles; what lies beyond the field is drawn at its edge. Each tile draws its low and high; empty and missing
 * tiles lift the pen. No tiles: an empty string.
 */
export function stripPath(tiles: readonly Tile[], { fromMs, toMs, width, height, lowC, highC }: StripField): string {
  const spanMs = Math.max(1, toMs - fromMs);
  const widthMs = columnMs(tiles);
  const xOf = (atMs: number): number => ((atMs - fromMs) / spanMs) * width;
  const yOf = (valueC: number): number => Math.min(height, Math.max(0, ((highC - valueC) / (highC - lowC)) * height));
  let pen: 'up' | 'down' = 'up';
  let [lastMs, lastC] = [0, 0];
  const parts: string[] = [];
  for (const [atMs, tileLowC, tileHighC] of tiles) {
    if (tileLowC === null || tileHighC === null) {
      pen = 'up';
      continue;
    }
    if (isHole(atMs - lastMs, widthMs)) pen = 'up';
    lastMs = atMs;
    const lowFirst = pen === 'up' || Math.abs(lastC - tileLowC) <= Math.abs(lastC - tileHighC);
    const values = tileLowC === tileHighC ? [tileLowC] : lowFirst ? [tileLowC, tileHighC] : [tileHighC, tileLowC];
    for (const valueC of values) {
      parts.push(`${pen === 'up' ? 'M' : 'L'}${xOf(atMs).toFixed(DECIMALS)} ${yOf(valueC).toFixed(DECIMALS)}`);
      pen = 'down';
      lastC = valueC;
    }
  }
  return parts.join('');
}
