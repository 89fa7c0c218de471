/** A run as one small line: peaks kept, gaps kept, inside its box. */
import { describe, expect, it } from 'vitest';
import type { Tile } from '../../server/core/show/wire.ts';
import { stripPath } from '../../web/road/strip.ts';

const tiles: readonly Tile[] = [
  [10_000, 30, 31, 30.5],
  [20_000, 32, 40, 33],
  [30_000, null, null, null],
  [40_000, 31, 31, 31],
  [50_000, 20, 31, 30],
];

describe('a strip', () => {
  it('runs from edge to edge, hot at the top, and lifts the pen over a gap', () => {
    expect(stripPath(tiles, 120, 20, 20, 40)).toBe('M0.0 10.0L0.0 9.0L30.0 8.0L30.0 0.0M90.0 9.0L120.0 9.0L120.0 20.0');
  });

  it('draws what lies beyond its scale at the edge', () => {
    expect(stripPath(tiles, 120, 20, 25, 35)).toContain('L30.0 0.0');
    expect(stripPath(tiles, 120, 20, 25, 35)).toContain('L120.0 20.0');
  });

  it('is nothing where there is nothing, and a point where there is one', () => {
    expect(stripPath([], 120, 20, 20, 40)).toBe('');
    expect(stripPath([[5, 30, 30, 30]], 120, 20, 20, 40)).toBe('M0.0 10.0');
  });
});
