/** The curve itself: all that was read as a faint ribbon from lowest to highest, the estimate as a line, and holes where nothing was read. */
import { columnMs, isHole } from '../core/show/holes.ts';
import type { Tile } from '../core/show/wire.ts';
import { haloed, INK } from './curve-ground.ts';
import type { CurveScale } from './curve-scale.ts';
import { element, pathThrough } from './svg.ts';

export const FAINT = '#8c8c8c';
export const LINE = '#0a3a86';
const LIGHT = '#ffffff';

/** A hole narrower than this has no word in it, in the picture's units. */
const WORD_WIDE = 16;

export function trace(tiles: readonly Tile[], scale: CurveScale): string {
  const widthMs = columnMs(tiles);
  const believed = tiles.filter(([, lowC]) => lowC !== null);
  const read = pieces(believed, widthMs);
  const estimated = pieces(
    believed.filter(([, , , estimateC]) => estimateC !== null),
    widthMs,
  );
  return [
    ...read.slice(1).map((piece, at) => hole(read[at]!.at(-1)![0], piece[0]![0], scale)),
    ...read.map((piece) => ribbon(piece, scale)),
    ...estimated.map((piece) => line(piece, scale)),
  ].join('');
}

function pieces(tiles: readonly Tile[], widthMs: number): Tile[][] {
  const all: Tile[][] = [];
  for (const tile of tiles) {
    const last = all.at(-1);
    if (last === undefined || isHole(tile[0] - last.at(-1)![0], widthMs)) all.push([tile]);
    else last.push(tile);
  }
  return all;
}

function ribbon(piece: readonly Tile[], { x, y }: CurveScale): string {
  const over = piece.map(([atMs, , highC]) => [x(atMs), y(highC!)] as const);
  const under = piece.map(([atMs, lowC]) => [x(atMs), y(lowC!)] as const).toReversed();
  return element('path', {
    d: `${pathThrough([...over, ...under])}Z`,
    fill: FAINT,
    stroke: FAINT,
    'stroke-width': 1.2,
    'stroke-linejoin': 'round',
  });
}

function line(piece: readonly Tile[], { x, y }: CurveScale): string {
  const d = pathThrough(piece.map(([atMs, , , estimateC]) => [x(atMs), y(estimateC!)] as const));
  const drawn = (stroke: string, width: number): string =>
    element('path', {
      d,
      fill: 'none',
      stroke,
      'stroke-width': width,
      'stroke-linejoin': 'round',
      'stroke-linecap': 'round',
    });
  return drawn(LIGHT, 4.5) + drawn(LINE, 2.4);
}

function hole(fromMs: number, toMs: number, { x, top, bottom }: CurveScale): string {
  const [left, right] = [x(fromMs), x(toMs)];
  const gap = element('rect', { x: left, y: top, width: right - left, height: bottom - top, fill: LIGHT });
  const edges = [left, right].map((at) =>
    element('path', {
      d: pathThrough([
        [at, top],
        [at, bottom],
      ]),
      stroke: INK,
      'stroke-width': 1,
      'stroke-dasharray': '5 4',
    }),
  );
  const middle = (left + right) / 2 + 4;
  const height = (top + bottom) / 2;
  const words = haloed(middle, height, 'no reading', {
    'text-anchor': 'middle',
    transform: `rotate(-90 ${middle} ${height})`,
  });
  return gap + edges.join('') + (right - left >= WORD_WIDE ? words : '');
}

/** The estimate next to a moment, °C, else what was read there; null: nothing is near. */
export function valueNear(tiles: readonly Tile[], atMs: number): number | null {
  const at = tiles.findLastIndex(([columnAtMs]) => columnAtMs <= atMs);
  const tile = tiles[Math.max(0, at)];
  return tile === undefined ? null : (tile[3] ?? tile[2]);
}
