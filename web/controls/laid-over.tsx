/** Curves laid over one another: each told apart by how its line is broken and by the letter at its end, on the lane of a band. Pure drawing. */
import type { Band } from '../../server/core/record/profile.ts';
import { bandOf, lineOf, stretchOf } from '../compare.ts';
import type { Aligned, Laid, Line, Stretch } from '../compare.ts';
import { COMPARE } from '../words/compare.ts';
import { fromUnit, inUnit, unitSign } from '../words/manner.ts';
import { bound } from '../words/measure.ts';

/** The drawing's own measure; it is stretched to its place, its strokes are not. */
const WIDTH = 1_000;
const HEIGHT = 400;
/** Minutes between two marks of the time, the first that leaves no more than `MARKS_MOST`. */
const MARK_STEPS_MIN = [1, 2, 5, 10, 15, 30, 60, 120, 240] as const;
const MARKS_MOST = 7;
/** Degrees between two marks of the temperature, in the reader's unit, the first that leaves no more than `DEGREES_MOST` (ours). */
const DEGREE_STEPS = [1, 2, 5, 10, 20, 50] as const;
const DEGREES_MOST = 7;
/** Letters closer than this to one another, as shares of the drawing, are drawn apart (ours: a letter's own size on a phone). */
const LETTER_HIGH = 0.09;
const LETTER_WIDE = 0.08;

export interface LaidOverProps {
  readonly laid: readonly Laid[];
  readonly aligned: Aligned;
  /** What is drawn, for those who can't see it. */
  readonly label: string;
}

export function LaidOver({ laid, aligned, label }: LaidOverProps) {
  const stretch = stretchOf(laid, aligned);
  const bandC = bandOf(laid, aligned);
  const lines = laid.map((each) => ({
    letter: each.letter,
    line: lineOf(each, aligned, stretch.fromMs, stretch.toMs),
  }));
  const yOf = (tempC: number): number => (stretch.highC - tempC) / (stretch.highC - stretch.lowC);
  const edges = edgesOf(bandC, yOf);
  const marks = degreesOf(stretch, edges, yOf);
  const xOf = (atMs: number): number => (atMs - stretch.fromMs) / (stretch.toMs - stretch.fromMs);
  return (
    <div class="laid-over" role="img" aria-label={label}>
      <svg viewBox={`0 0 ${WIDTH} ${HEIGHT}`} preserveAspectRatio="none" aria-hidden="true">
        {bandC !== null && (
          <rect
            class="folded-lane"
            x="0"
            y={yOf(bandC[1]) * HEIGHT}
            width={WIDTH}
            height={(yOf(bandC[0]) - yOf(bandC[1])) * HEIGHT}
          />
        )}
        {marks.map(({ y }) => (
          <path key={y} class="laid-degree" d={`M0 ${round(y * HEIGHT)}H${WIDTH}`} />
        ))}
        {stretch.fromMs < 0 && <path class="laid-nought" d={`M${xOf(0) * WIDTH} 0V${HEIGHT}`} />}
        {lines.map(({ letter, line }) => (
          <path key={letter} class={`laid-line laid-${letter}`} d={pathOf(line, xOf, yOf)} />
        ))}
      </svg>
      {lettersOf(lines, xOf, yOf).map(({ letter, x, y }) => (
        <b key={letter} class="laid-letter" style={{ left: `${x * 100}%`, top: `${y * 100}%` }} aria-hidden="true">
          {letter}
        </b>
      ))}
      {[...edges, ...marks].map(({ y, text }) => (
        <span key={text} class="laid-edge" style={{ top: `${y * 100}%` }} aria-hidden="true">
          {text}
        </span>
      ))}
      {marksOf(stretch).map((min, i, all) => (
        <span key={min} class="laid-time" style={{ left: `${xOf(min * 60_000) * 100}%` }} aria-hidden="true">
          {i === all.length - 1 ? COMPARE.minutes(min) : min}
        </span>
      ))}
    </div>
  );
}

/** A short stroke as the line of this letter is drawn. */
export function LineSample({ letter }: { readonly letter: string }) {
  return (
    <svg class="laid-sample" viewBox="0 0 64 10" aria-hidden="true">
      <path class={`laid-line laid-${letter}`} d="M2 5H62" />
    </svg>
  );
}

type Scale = (value: number) => number;

function pathOf(line: Line, xOf: Scale, yOf: Scale): string {
  let isDown = false;
  let path = '';
  for (const [atMs, tempC] of line) {
    if (tempC === null) isDown = false;
    else {
      path += `${isDown ? 'L' : 'M'}${round(xOf(atMs) * WIDTH)} ${round(yOf(tempC) * HEIGHT)}`;
      isDown = true;
    }
  }
  return path;
}

function round(value: number): number {
  return Math.round(value * 10) / 10;
}

interface Letter {
  readonly letter: string;
  readonly x: number;
  readonly y: number;
}

/** A figure beside the drawing: how far down, as a share of it. */
interface Mark {
  readonly y: number;
  readonly text: string;
}

/** Whole degrees to be named along the temperature, the uppermost with its unit; none where the lane has its own figures. */
function degreesOf({ lowC, highC }: Stretch, edges: readonly Mark[], yOf: Scale): readonly Mark[] {
  const [low, high] = [inUnit(lowC), inUnit(highC)];
  const step = DEGREE_STEPS.find((each) => (high - low) / each <= DEGREES_MOST) ?? 100;
  const highest = Math.floor(high / step);
  const count = Math.max(0, highest - Math.ceil(low / step) + 1);
  return Array.from({ length: count }, (_, i) => (highest - i) * step)
    .map((degrees) => ({ y: yOf(fromUnit(degrees)), text: String(degrees) }))
    .filter(({ y }) => edges.every((edge) => Math.abs(edge.y - y) >= LETTER_HIGH))
    .map(({ y, text }, i) => ({ y, text: i === 0 ? COMPARE.withUnit(text, unitSign()) : text }));
}

/** The figures of the lane's edges; where they would stand in one another, as one. */
function edgesOf(bandC: Band | null, yOf: Scale): readonly Mark[] {
  if (bandC === null) return [];
  const [low, high] = [yOf(bandC[0]), yOf(bandC[1])];
  if (low - high < LETTER_HIGH) return [{ y: (low + high) / 2, text: COMPARE.band(bound(bandC[0]), bound(bandC[1])) }];
  return bandC.map((edgeC) => ({ y: yOf(edgeC), text: bound(edgeC) }));
}

/** At the end of each line, moved down where another stands there already. */
function lettersOf(
  lines: readonly { readonly letter: string; readonly line: Line }[],
  xOf: Scale,
  yOf: Scale,
): readonly Letter[] {
  const ends = lines.flatMap(({ letter, line }): Letter[] => {
    const end = line.findLast(([, tempC]) => tempC !== null);
    return end === undefined || end[1] === null ? [] : [{ letter, x: xOf(end[0]), y: yOf(end[1]) }];
  });
  const placed: Letter[] = [];
  for (const end of ends.toSorted((a, b) => a.y - b.y)) {
    let { y } = end;
    for (const other of placed)
      if (Math.abs(other.x - end.x) < LETTER_WIDE && y - other.y < LETTER_HIGH) y = other.y + LETTER_HIGH;
    placed.push({ ...end, y });
  }
  return placed;
}

/** Whole minutes to be named along the time. */
function marksOf({ fromMs, toMs }: Stretch): readonly number[] {
  const lengthMin = (toMs - fromMs) / 60_000;
  const stepMin = MARK_STEPS_MIN.find((step) => lengthMin / step <= MARKS_MOST) ?? 480;
  const first = Math.ceil(fromMs / 60_000 / stepMin);
  const count = Math.floor(toMs / 60_000 / stepMin) - first + 1;
  return Array.from({ length: count }, (_, i) => (first + i) * stepMin);
}
