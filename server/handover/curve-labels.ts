/**
 * Words over the picture that never lie on one another: each begins at the stalk of its mark and runs to the right, in rows that climb to the
 * left, so that no stalk crosses a word. Pure geometry.
 */

export interface Labelled {
  readonly x: number;
  readonly text: string;
}

export interface PlacedLabel extends Labelled {
  /** Counted from the picture upward. */
  readonly row: number;
  readonly width: number;
}

/** Width of a character as a share of the type's size, on the wide side for a sans-serif face (ours: whoever opens it has another face). */
const CHARACTER_SHARE = 0.63;
/** Longest label, characters, and the space after one, in the picture's units. */
const MOST_CHARS = 38;
const GAP = 10;

export function widthOf(text: string, size: number): number {
  return Array.from(text).length * size * CHARACTER_SHARE;
}

/** `right`: where words must end. What finds no row is counted at the next label to its right: "strip test good +2". */
export function placedLabels(marks: readonly Labelled[], size: number, right: number, rows: number): PlacedLabel[] {
  const placed: PlacedLabel[] = [];
  const left = marks.toSorted((a, b) => b.x - a.x);
  const counts = new Map<number, number>();
  for (const { x, text } of left) {
    const room = Math.min(MOST_CHARS, Math.floor((right - x - GAP / 2) / (size * CHARACTER_SHARE)));
    const words = cut(text, room);
    const width = widthOf(words, size);
    const inTheWay = placed.filter((other) => other.x < x + width + GAP).map(({ row }) => row);
    const row = Math.max(-1, ...inTheWay) + 1;
    if (row < rows) placed.push({ x, text: words, row, width });
    else counts.set(placed.length - 1, (counts.get(placed.length - 1) ?? 0) + 1);
  }
  return placed.map((label, at) => withCount(label, counts.get(at) ?? 0));
}

function withCount(label: PlacedLabel, more: number): PlacedLabel {
  if (more === 0) return label;
  const suffix = ` +${more}`;
  return { ...label, text: `${cut(label.text, Array.from(label.text).length - suffix.length)}${suffix}` };
}

export function cut(text: string, most: number): string {
  const characters = Array.from(text);
  return characters.length <= most
    ? text
    : `${characters
        .slice(0, Math.max(0, most - 1))
        .join('')
        .trimEnd()}…`;
}

/** Heights so far apart that words at them do not touch, in the order given, each as near to where it should be as that allows. */
export function spread(heights: readonly number[], apart: number, bottom: number): number[] {
  const placed: number[] = [];
  for (const height of heights) placed.push(Math.max(height, (placed.at(-1) ?? -Infinity) + apart));
  const over = Math.max(0, (placed.at(-1) ?? 0) - bottom);
  return placed.map((height) => height - over);
}
