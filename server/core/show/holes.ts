/** Where nothing was read between the columns of a curve. Pure. */

/** Between readings further apart than this nothing was read, ms (the live page calls it no reading after the same time). */
const UNREAD_MS = 10_000;

/** Width of the columns of a curve, ms: the least distance between two of them. Of a single one nothing is known but that it is there. */
export function columnMs(columns: readonly (readonly [atMs: number, ...rest: readonly unknown[]])[]): number {
  if (columns.length < 2) return 0;
  return columns.reduce((least, [atMs], i) => (i === 0 ? least : Math.min(least, atMs - columns[i - 1]![0])), Infinity);
}

/** Whether nothing was read between a column and the next, which begin so far apart, ms. A hole narrower than a column cannot be seen. */
export function isHole(apartMs: number, widthMs: number): boolean {
  return apartMs - widthMs > Math.max(UNREAD_MS, widthMs);
}
