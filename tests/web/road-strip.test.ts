/** A run as one small line: peaks kept, gaps kept, inside its box. */
import { describe, expect, it } from 'vitest';
import type { Tile } from '../../server/core/show/wire.ts';
import { stripPath, stripSpan } from '../../web/road/strip.ts';

const tiles: readonly Tile[] = [
  [10_000, 30, 31, 30.5],
  [20_000, 32, 40, 33],
  [30_000, null, null, null],
  [40_000, 31, 31, 31],
  [50_000, 20, 31, 30],
];

const FIELD = { fromMs: 10_000, toMs: 50_000, width: 120, height: 20, lowC: 20, highC: 40 };
const LOW = { ...FIELD, lowC: 25, highC: 35 };

describe('a strip', () => {
  it('runs from edge to edge, hot at the top, and lifts the pen over a gap', () => {
    expect(stripPath(tiles, FIELD)).toBe('M0.0 10.0L0.0 9.0L30.0 8.0L30.0 0.0M90.0 9.0L120.0 9.0L120.0 20.0');
  });

  it('draws what lies beyond its scale at the edge', () => {
    expect(stripPath(tiles, LOW)).toContain('L30.0 0.0');
    expect(stripPath(tiles, LOW)).toContain('L120.0 20.0');
  });

  it('is nothing where there is nothing, and a point where there is one', () => {
    expect(stripPath([], FIELD)).toBe('');
    expect(stripPath([[10_000, 30, 30, 30]], FIELD)).toBe('M0.0 10.0');
  });

  it('lifts the pen where columns are missing, and has room for the end in which nothing was read', () => {
    const read = [0, 10_000, 20_000, 60_000, 70_000].map((atMs): Tile => [atMs, 30, 30, 30]);
    const span = stripSpan(read, [{ atMs: 0 }], 140_000);
    expect(stripPath(read, { ...FIELD, ...span, width: 140 })).toBe(
      'M0.0 10.0L10.0 10.0L20.0 10.0M60.0 10.0L70.0 10.0',
    );
    expect(stripSpan(read, [], null)).toEqual({ fromMs: 0, toMs: 70_000 });
  });
});
