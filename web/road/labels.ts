/** Keeps words off each other and off the trace: a label goes to the first place that is free. Pure; boxes only. */
import type { Box } from './sheet.ts';

/** Clear space kept round every label, px (ours). */
const CLEARANCE = 4;
/** Stretches of trace are taken together up to this width, px (ours). */
const TRACE_STEP = 10;

/** Remembers what is taken, in order of importance. */
export class Places {
  readonly #within: Box;
  readonly #taken: Box[] = [];
  readonly #lines: Box[] = [];

  constructor(within: Box) {
    this.#within = within;
  }

  take(...boxes: readonly Box[]): void {
    this.#taken.push(...boxes);
  }

  /** Lines of the map: words keep off them, marks with a ground of their own may lie on them. */
  takeLines(...boxes: readonly Box[]): void {
    this.#lines.push(...boxes);
  }

  isFree(box: Box, onLines = false): boolean {
    if (!contains(this.#within, box) || (!onLines && this.#lines.some((line) => overlap(box, line)))) return false;
    const kept = grown(box, CLEARANCE);
    return !this.#taken.some((taken) => overlap(kept, taken));
  }

  /** Takes and returns the first of the candidates that is free; null where none is. */
  first(candidates: readonly Box[], onLines = false): Box | null {
    const free = candidates.find((box) => this.isFree(box, onLines)) ?? null;
    if (free !== null) this.take(free);
    return free;
  }
}

/** The boxes a line of this width takes up, gaps left free. */
export function boxesAlong(spots: readonly { x: number; y: number }[], width: number): Box[] {
  const boxes: Box[] = [];
  let run: { readonly x: number; readonly y: number }[] = [];
  const close = (): void => {
    if (run.length > 0) boxes.push(grown(boxRound(run), width / 2));
    run = [];
  };
  for (const spot of spots) {
    if (Number.isNaN(spot.y)) {
      close();
      continue;
    }
    run.push(spot);
    if (spot.x - run[0]!.x < TRACE_STEP) continue;
    close();
    run = [spot];
  }
  close();
  return boxes;
}

/** `spots`: from left to right. */
function boxRound(spots: readonly { readonly x: number; readonly y: number }[]): Box {
  const [x, ys] = [spots[0]!.x, spots.map((spot) => spot.y)];
  const y = Math.min(...ys);
  return { x, y, width: spots.at(-1)!.x - x, height: Math.max(...ys) - y };
}

/** One thing along an edge that wants a place near where it belongs. */
export interface Wish {
  readonly at: number;
  readonly size: number;
  /** 0 is kept first. */
  readonly rank: number;
}

/**
 * Places along an edge, by position in the list: null where a wish had to give way to one that matters more. A kept one moves
 * at most `give` from where it belongs.
 */
export function alongEdge(
  wishes: readonly Wish[],
  from: number,
  to: number,
  gap: number,
  give: number,
): (number | null)[] {
  const places: (number | null)[] = wishes.map(() => null);
  const order = wishes.map((_, i) => i).toSorted((a, b) => wishes[a]!.rank - wishes[b]!.rank || a - b);
  for (const i of order) places[i] = freePlace(wishes, places, i, { from, to, gap, give });
  return places;
}

function freePlace(
  wishes: readonly Wish[],
  places: readonly (number | null)[],
  i: number,
  edge: { from: number; to: number; gap: number; give: number },
): number | null {
  const { at, size } = wishes[i]!;
  const clampTo = (place: number): number => Math.min(edge.to - size / 2, Math.max(edge.from + size / 2, place));
  const neighbours = places.flatMap((place, j) =>
    place === null ? [] : { place, room: (size + wishes[j]!.size) / 2 + edge.gap },
  );
  const isFree = (place: number): boolean =>
    neighbours.every((other) => Math.abs(other.place - place) >= other.room - 1e-9);
  const tries = [at, ...neighbours.flatMap(({ place, room }) => [place - room, place + room])].map(clampTo);
  const near = tries.filter((place) => Math.abs(place - clampTo(at)) <= edge.give && isFree(place));
  return near.toSorted((a, b) => Math.abs(a - at) - Math.abs(b - at))[0] ?? null;
}

function overlap(a: Box, b: Box): boolean {
  return a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height;
}

function contains(outer: Box, inner: Box): boolean {
  return (
    inner.x >= outer.x &&
    inner.y >= outer.y &&
    inner.x + inner.width <= outer.x + outer.width &&
    inner.y + inner.height <= outer.y + outer.height
  );
}

function grown(box: Box, by: number): Box {
  return { x: box.x - by, y: box.y - by, width: box.width + 2 * by, height: box.height + 2 * by };
}
