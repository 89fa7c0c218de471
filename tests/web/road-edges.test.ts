/** What is written along the edges of the road: that it stands within the drawing, however low that is. */
import { expect, test } from 'vitest';
import { paintEdges } from '../../web/road/edges.ts';
import type { Palette } from '../../web/road/palette.ts';
import { layOut } from '../../web/road/sheet.ts';
import { SCENES } from '../support/road/scenes.ts';

/** Height of capitals, as a share of the size. */
const CAP_SHARE = 0.7;
/** The words drawn, each with the y of its top. */
function drawn(name: string, height: number): Map<string, number> {
  const words = new Map<string, number>();
  const canvas = {
    font: '',
    measureText: (text: string) => ({ width: text.length * 8 }),
    fillText: (text: string, _x: number, y: number) =>
      words.set(text, y - CAP_SHARE * Number(/([\d.]+)px/.exec(canvas.font)![1])),
  };
  const quiet = new Proxy(canvas, { get: (held, key) => Reflect.get(held, key) ?? (() => {}) });
  const model = SCENES[name]!();
  const sheet = layOut(model, { width: 390, height });
  // Low enough that no phase stands over the map.
  expect(sheet.rail.height).toBe(0);
  const pen = { canvas: quiet as never, palette: {} as Palette, metrics: sheet.metrics, ratio: 1 };
  paintEdges(pen, model, sheet);
  return words;
}

test.each([
  ['melt-early', 200],
  ['unbegun', 150],
  ['work', 240],
])('no level is cut off at the top: %s, %d px high', (name, height) => {
  expect(Math.min(...drawn(name, height).values())).toBeGreaterThanOrEqual(0);
});
