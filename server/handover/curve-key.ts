/** What the lines and signs of the picture of a run stand for, in one row under its axes. */
import { INK, SMALL, word } from './curve-ground.ts';
import { widthOf } from './curve-labels.ts';
import { diamond, triangle } from './curve-signs.ts';
import { FAINT, LINE } from './curve-trace.ts';
import { element, pathThrough } from './svg.ts';

/** A sample, the space after it, and the space after its words, in the picture's units. */
const SAMPLE = 26;
const AFTER_SAMPLE = 7;
const AFTER_WORDS = 22;

type Sample = (x: number, y: number) => string;

const KEYS: readonly (readonly [Sample, string])[] = [
  [stroke(LINE, 2.4), 'our estimate of the chocolate'],
  [stroke(FAINT, 5), 'what was read, lowest to highest'],
  [(x, y) => diamond(x + SAMPLE / 2, y), 'act or note'],
  [(x, y) => triangle(x + SAMPLE / 2, y + 8), 'alarm'],
];

/** From `left` on, its middle at the height of `y`. */
export function key(left: number, y: number): string {
  let x = left;
  const drawn = KEYS.map(([sample, name]) => {
    const at = x;
    x += SAMPLE + AFTER_SAMPLE + widthOf(name, SMALL) + AFTER_WORDS;
    return sample(at, y) + word(at + SAMPLE + AFTER_SAMPLE, y + 4, name, { fill: INK });
  });
  return drawn.join('');
}

function stroke(colour: string, width: number): Sample {
  return (x, y) =>
    element('path', {
      d: pathThrough([
        [x, y],
        [x + SAMPLE, y],
      ]),
      stroke: colour,
      'stroke-width': width,
      fill: 'none',
    });
}
