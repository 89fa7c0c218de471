/** The strokes the map is made of: crisp lines, outlined words, hatching. Knows the canvas and the colours, nothing about time or temperature. */
import type { Metrics } from './metrics.ts';
import type { Palette } from './palette.ts';
import type { Box } from './sheet.ts';

export interface Pen {
  readonly canvas: CanvasRenderingContext2D;
  readonly palette: Palette;
  readonly metrics: Metrics;
  /** Device pixels per CSS px. */
  readonly ratio: number;
}

export interface Spot {
  readonly x: number;
  readonly y: number;
}

/** Spots by pairs of x and y. */
export function spotsAt(...at: readonly number[]): Spot[] {
  return at.flatMap((x, i) => (i % 2 === 0 ? { x, y: at[i + 1]! } : []));
}

/** Clockwise from the top left. */
export function cornersOf({ x, y, width, height }: Box): Spot[] {
  return spotsAt(x, y, x + width, y, x + width, y + height, x, y + height);
}

export interface Lettering {
  readonly size: number;
  readonly weight?: number;
  /** A person's words, in their own voice. */
  readonly person?: boolean;
}

export interface Setting extends Lettering {
  readonly colour: string;
  /** Colour of the ground that surrounds each letter; absent: none. */
  readonly outline?: string;
  readonly align?: CanvasTextAlign;
}

const TOOL_FACE = '"Overpass Variable", "Liberation Sans", Arial, sans-serif';
const PERSON_FACE = '"Newsreader Variable", Georgia, "Liberation Serif", serif';
const OUTLINE_W = 6;
/** Height of capitals in the tool's face, as a share of the size. */
const CAP_SHARE = 0.7;

export function fontOf({ size, weight = 600, person = false }: Lettering): string {
  return person ? `italic 560 ${size}px ${PERSON_FACE}` : `${weight} ${size}px ${TOOL_FACE}`;
}

/** Widths of words by face and size: most stand there again a second later. */
const widths = new Map<string, number>();
/** More words than a map holds; then all are measured anew (ours). */
const MOST_WIDTHS = 500;

/** Width of words, CSS px. */
export function widthOf({ canvas }: Pen, words: string, lettering: Lettering): number {
  const font = fontOf(lettering);
  const key = `${font} ${words}`;
  const known = widths.get(key);
  if (known !== undefined) return known;
  if (widths.size >= MOST_WIDTHS) widths.clear();
  canvas.font = font;
  const { width } = canvas.measureText(words);
  widths.set(key, width);
  return width;
}

/** Another face has come: words are as wide as it makes them. */
export function forgetWidths(): void {
  widths.clear();
}

/** The box that words take up when their baseline begins at `x`, `y`. */
export function wordBox(pen: Pen, words: string, lettering: Lettering, { x, y }: Spot): Box {
  const height = lettering.size * CAP_SHARE;
  return { x, y: y - height, width: widthOf(pen, words, lettering), height: height + lettering.size * 0.24 };
}

/** Words with their baseline at `y`. */
export function write({ canvas }: Pen, words: string, { x, y }: Spot, setting: Setting): void {
  canvas.font = fontOf(setting);
  canvas.textAlign = setting.align ?? 'left';
  canvas.textBaseline = 'alphabetic';
  if (setting.outline !== undefined) {
    canvas.strokeStyle = setting.outline;
    canvas.lineWidth = OUTLINE_W;
    canvas.lineJoin = 'round';
    canvas.setLineDash([]);
    canvas.strokeText(words, x, y);
  }
  canvas.fillStyle = setting.colour;
  canvas.fillText(words, x, y);
}

/** Words on the ground of the map, where other things may lie beneath them. */
export function onGround({ palette }: Pen, size: number): Setting {
  return { size, weight: 700, colour: palette['map-ink'], outline: palette.verge };
}

/** Words in the box that they take up. */
export function writeIn(pen: Pen, words: string, { x, y }: Box, setting: Setting): void {
  write(pen, words, { x, y: y + setting.size * CAP_SHARE }, setting);
}

/** Words turned to read upward, their baseline on the vertical through `x`, beginning at `y`. */
export function writeUpward(pen: Pen, words: string, { x, y }: Spot, setting: Setting): void {
  const { canvas } = pen;
  canvas.save();
  canvas.translate(x, y);
  canvas.rotate(-Math.PI / 2);
  write(pen, words, { x: 0, y: 0 }, setting);
  canvas.restore();
}

/** The middle of a level line of this width so that both its edges fall between device pixels. */
export function crisp({ ratio }: Pen, at: number, width: number): number {
  return Math.round((at - width / 2) * ratio) / ratio + width / 2;
}

export interface Stroke {
  readonly colour: string;
  readonly width: number;
  readonly dash?: readonly number[];
}

/** A straight line; level and upright ones are crisp. */
export function line(pen: Pen, from: Spot, to: Spot, stroke: Stroke): void {
  const shiftY = from.y === to.y ? crisp(pen, from.y, stroke.width) - from.y : 0;
  const shiftX = from.x === to.x ? crisp(pen, from.x, stroke.width) - from.x : 0;
  path(pen, spotsAt(from.x + shiftX, from.y + shiftY, to.x + shiftX, to.y + shiftY), stroke);
}

/** A bent line; NaN in `y` lifts the pen. */
export function path({ canvas }: Pen, spots: readonly Spot[], stroke: Stroke): void {
  canvas.beginPath();
  let isDown = false;
  for (const { x, y } of spots) {
    if (isDown) canvas.lineTo(x, y);
    else canvas.moveTo(x, y);
    isDown = !Number.isNaN(y);
  }
  ink(canvas, stroke);
}

/** Along the path as it stands. */
export function ink(canvas: CanvasRenderingContext2D, { colour, width, dash = [] }: Stroke): void {
  canvas.strokeStyle = colour;
  canvas.lineWidth = width;
  canvas.lineCap = 'butt';
  canvas.lineJoin = 'round';
  canvas.setLineDash([...dash]);
  canvas.stroke();
  canvas.setLineDash([]);
}

/** Round a shape, with all its corners joined. */
export function edge(pen: Pen, corners: readonly Spot[], stroke: Stroke): void {
  path(pen, [...corners, ...corners.slice(0, 2)], stroke);
}

export function outline({ canvas }: Pen, spots: readonly Spot[]): void {
  canvas.beginPath();
  for (const { x, y } of spots) canvas.lineTo(x, y);
  canvas.closePath();
}

export function fill(pen: Pen, spots: readonly Spot[], colour: string | CanvasGradient): void {
  outline(pen, spots);
  pen.canvas.fillStyle = colour;
  pen.canvas.fill();
}

export function disc({ canvas }: Pen, { x, y }: Spot, radius: number, colour: string, round?: Stroke): void {
  canvas.beginPath();
  canvas.arc(x, y, radius, 0, 2 * Math.PI);
  canvas.fillStyle = colour;
  canvas.fill();
  if (round !== undefined) ink(canvas, round);
}

/** Does something with everything outside the shape left untouched. */
export function within(pen: Pen, spots: readonly Spot[], paint: () => void): void {
  pen.canvas.save();
  outline(pen, spots);
  pen.canvas.clip();
  paint();
  pen.canvas.restore();
}

/** Diagonal lines over a box, rising to the right, or falling. They stand still whatever slides over them. */
export function hatch({ canvas }: Pen, box: Box, pitch: number, stroke: Stroke, falling = false): void {
  canvas.beginPath();
  const span = box.width + box.height;
  for (let d = -box.height; d < span; d += pitch * Math.SQRT2) {
    const x = box.x + d;
    canvas.moveTo(x, falling ? box.y : box.y + box.height);
    canvas.lineTo(x + box.height, falling ? box.y + box.height : box.y);
  }
  ink(canvas, stroke);
}

/** Staggered dots over a box. */
export function dots({ canvas }: Pen, box: Box, pitch: number, radius: number, colour: string): void {
  canvas.beginPath();
  let row = 0;
  for (let y = box.y + pitch / 2; y < box.y + box.height + radius; y += pitch / 2, row++) {
    for (let x = box.x + (row % 2 === 0 ? pitch / 4 : (pitch * 3) / 4); x < box.x + box.width; x += pitch) {
      canvas.moveTo(x + radius, y);
      canvas.arc(x, y, radius, 0, 2 * Math.PI);
    }
  }
  canvas.fillStyle = colour;
  canvas.fill();
}
