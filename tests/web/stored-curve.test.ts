/** The curve of a stored run: columns from the start, and every reading where somebody looked. */
import { describe, expect, test } from 'vitest';
import type { WireReading } from '../../server/core/show/wire.ts';
import { fetchCurve, StoredCurve } from '../../web/stored-curve.ts';
import { infoOf, msAt, readingsUpTo, tilesOf } from '../support/scenes.ts';

const READINGS = readingsUpTo(118);
const OPENED = { info: infoOf(false), tiles: tilesOf(READINGS, 16) };

/** A server that gives what is asked for, and says how often it was. */
function served() {
  const asked: (readonly [fromMs: number, toMs: number])[] = [];
  const fetchPart: typeof fetchCurve = (_run, fromMs, toMs) => {
    asked.push([fromMs, toMs]);
    const readings = READINGS.filter(([atMs]) => fromMs <= atMs && atMs <= toMs);
    return Promise.resolve({ ok: true, value: { readings, tiles: [] } });
  };
  return { asked, fetchPart };
}

const UNREACHABLE: typeof fetchCurve = () => Promise.resolve({ ok: false, why: 'gone' });

function expectRows(rows: readonly WireReading[], fromMs: number, toMs: number): void {
  expect(rows).toEqual(READINGS.filter(([atMs]) => fromMs <= atMs && atMs <= toMs));
}

describe('a stored curve', () => {
  test('is drawn whole from the start, its peak included', () => {
    const { curve } = new StoredCurve(OPENED);
    const drawn = curve
      .columns('reading', { fromMs: msAt(0), toMs: msAt(118) }, 10_000)
      .valueC.filter((valueC) => !Number.isNaN(valueC));
    const highestC = Math.max(...READINGS.map(([, valueC]) => valueC));
    expect(Math.max(...drawn)).toBeCloseTo(highestC, 3);
  });

  test('says by its columns what was read up to a moment, the one that is going on included', () => {
    const stored = new StoredCurve(OPENED);
    const atMs = msAt(60) + 5_000;
    const rows = stored.rowsUpTo(atMs);
    const [newestMs, valueC, quality, estimateC] = rows.at(-1)!;
    expect([newestMs, quality]).toEqual([atMs, 0]);
    expect(Math.abs(valueC - READINGS.find(([ms]) => ms === atMs)![1])).toBeLessThan(0.3);
    expect(estimateC).not.toBeNull();
    expect(rows.length).toBeGreaterThan(6);
    expect(rows.every(([ms], i) => i === 0 || ms > rows[i - 1]![0])).toBe(true);
    expect(stored.rowsUpTo(msAt(0) - 60_000)).toEqual([]);
    expect(stored.rowsUpTo(msAt(130))).toEqual([]);
  });

  test('a column in which nothing good was read is none', () => {
    const gone = OPENED.tiles.map((tile) => (tile[0] > msAt(60) ? ([tile[0], null, null, tile[3]] as const) : tile));
    const rows = new StoredCurve({ ...OPENED, tiles: gone }).rowsUpTo(msAt(61));
    expect(rows.some(([, , quality]) => quality === 0)).toBe(true);
    expect(rows.at(-1)![2]).not.toBe(0);
  });

  test('every reading is fetched around a moment once it is wanted, once, across the edge of a stretch too', async () => {
    const { asked, fetchPart } = served();
    const stored = new StoredCurve(OPENED, fetchPart);
    const edgeMs = Math.ceil(msAt(30) / 300_000) * 300_000;
    expect(await stored.want(edgeMs + 30_000, 0)).toBe(true);
    expect(asked).toHaveLength(2);
    expectRows(stored.rowsUpTo(edgeMs + 30_000), edgeMs - 90_000, edgeMs + 30_000);
    expect(await stored.want(edgeMs + 40_000, 0)).toBe(false);
    expect(await stored.want(edgeMs + 40_000, 300_000)).toBe(true);
    expect(asked).toHaveLength(3);
    expectRows(stored.rowsUpTo(edgeMs + 200_000), edgeMs + 80_000, edgeMs + 200_000);
  });

  test('what cannot be had stays in columns, and is asked for again', async () => {
    let isThere = false;
    const { fetchPart } = served();
    const stored = new StoredCurve(OPENED, (...asked) => (isThere ? fetchPart : UNREACHABLE)(...asked));
    const before = stored.rowsUpTo(msAt(60));
    expect(await stored.want(msAt(60), 0)).toBe(false);
    expect(stored.rowsUpTo(msAt(60))).toEqual(before);
    isThere = true;
    expect(await stored.want(msAt(60), 0)).toBe(true);
    expect(stored.rowsUpTo(msAt(60))).not.toEqual(before);
  });

  test('keeps what was looked at last, and no more than an hour of it', async () => {
    const { asked, fetchPart } = served();
    const stored = new StoredCurve(OPENED, fetchPart);
    for (let min = 5; min <= 115; min += 5) await stored.want(msAt(min), 0);
    const count = asked.length;
    expect(await stored.want(msAt(115), 0)).toBe(false);
    expect(await stored.want(msAt(5), 0)).toBe(true);
    expect(asked.length).toBeGreaterThan(count);
  });
});
