/** The road's colours, read from the page's custom properties at the moment of drawing, so that a change of theme needs no word. */

const NAMES = [
  'slab',
  'ink',
  'quiet',
  'lane',
  'verge',
  'hatch',
  'centre',
  'trace',
  'trace-edge',
  'fan',
  'fan-edge',
  'fold-a',
  'fold-b',
  'map-ink',
  'mark',
  'mark-ink',
] as const;

/** CSS colours by name. */
export type Palette = Readonly<Record<(typeof NAMES)[number], string>>;

/** Where a page doesn't define a colour, this one keeps the drawing visible. */
const MISSING = '#000000';

export function readPalette(host: Element): Palette {
  const style = getComputedStyle(host);
  return Object.fromEntries(
    NAMES.map((name) => [name, style.getPropertyValue(`--${name}`).trim() || MISSING]),
  ) as Palette;
}
