/** The signs of the picture of a run: an alarm is a triangle with an exclamation mark, what a person did or wrote a white diamond. */
import { INK, word } from './curve-ground.ts';
import { element, pathThrough } from './svg.ts';

const ALARM = '#8c0f33';
const LIGHT = '#ffffff';

/** Around its middle. */
export function diamond(x: number, y: number): string {
  const edge = pathThrough([
    [x, y - 6],
    [x + 6, y],
    [x, y + 6],
    [x - 6, y],
  ]);
  return element('path', { d: `${edge}Z`, fill: LIGHT, stroke: INK, 'stroke-width': 1.6 });
}

/** Standing a little over its moment on the curve. */
export function triangle(x: number, y: number): string {
  const edge = pathThrough([
    [x, y - 17],
    [x + 9, y - 2],
    [x - 9, y - 2],
  ]);
  const field = element('path', {
    d: `${edge}Z`,
    fill: ALARM,
    stroke: LIGHT,
    'stroke-width': 1.5,
    'stroke-linejoin': 'round',
  });
  return field + word(x, y - 4, '!', { fill: LIGHT, 'font-size': 11, 'font-weight': 700, 'text-anchor': 'middle' });
}
