/** A run as one small line for a list: SVG path data, peaks kept, gaps kept. Knows nothing about phases or colours. */
import type { Tile } from '../../server/core/show/wire.ts';

const DECIMALS = 1;

/**
 * Path data of a run's tiles in a box of `width` × `height`, `lowC` at the foot and `highC` at the top; what lies beyond is drawn
 * at the edge. Each tile draws its low and high; empty tiles lift the pen. No tiles: an empty string.
 */
export function stripPath(tiles: readonly Tile[], width: number, height: number, lowC: number, highC: number): string {
  const firstMs = tiles[0]?.[0] ?? 0;
  const spanMs = Math.max(1, (tiles.at(-1)?.[0] ?? 0) - firstMs);
  const xOf = (atMs: number): number => ((atMs - firstMs) / spanMs) * width;
  const yOf = (valueC: number): number => Math.min(height, Math.max(0, ((highC - valueC) / (highC - lowC)) * height));
  let pen: 'up' | 'down' = 'up';
  let lastC = 0;
  const parts: string[] = [];
  for (const [atMs, tileLowC, tileHighC] of tiles) {
    if (tileLowC === null || tileHighC === null) {
      pen = 'up';
      continue;
    }
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
