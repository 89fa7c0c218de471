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
/** Room for a count behind any words, characters: " +12". */
const COUNT_CHARS = 4;

export function widthOf(text: string, size: number): number {
  return Array.from(text).length * size * CHARACTER_SHARE;
}

interface Fitting {
  readonly label: PlacedLabel;
  /** All of its words, before they were cut. */
  readonly whole: string;
  /** Characters kept free for them and a count. */
  readonly room: number;
  /** How many more are counted at it. */
  readonly more: number;
}

/** `right`: where words must end. What finds no row is counted at the next label to its right: "strip test good +2". */
export function placedLabels(marks: readonly Labelled[], size: number, right: number, rows: number): PlacedLabel[] {
  const placed: Fitting[] = [];
  for (const { x, text } of marks.toSorted((a, b) => b.x - a.x)) {
    const most = Math.min(MOST_CHARS, Math.floor((right - x - GAP / 2) / (size * CHARACTER_SHARE)));
    const room = Math.min(most, Array.from(text).length + COUNT_CHARS);
    const width = room * size * CHARACTER_SHARE;
    const inTheWay = placed.filter((other) => other.label.x < x + width + GAP).map(({ label }) => label.row);
    const row = Math.max(-1, ...inTheWay) + 1;
    if (row < rows) placed.push({ label: { x, text: cut(text, room), row, width }, whole: text, room, more: 0 });
    else placed.push(counted(placed.pop()!));
  }
  return placed.map(({ label }) => ({ ...label, width: widthOf(label.text, size) }));
}

/** With one more that found no room. */
function counted({ label, whole, room, more }: Fitting): Fitting {
  const suffix = ` +${more + 1}`;
  return { label: { ...label, text: `${cut(whole, room - suffix.length)}${suffix}` }, whole, room, more: more + 1 };
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
