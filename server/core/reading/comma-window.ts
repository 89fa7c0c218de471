/**
 * What commas mean to a device, told from a while of its lines. `31,45` may be one number or two; only how the digits go on shows
 * which: a decimal part carries into the whole one and has leading noughts, a second value does not.
 */
import { GLUED } from './comma.ts';
import { PATIENCE_MS } from './columns.ts';
import type { HeardLine } from './heard.ts';

/** `alone`: each line says it by itself, or has no such commas. `wait`: not sure yet. `ask`: nor will it be. */
export type CommaVerdict = 'decimal' | 'separator' | 'alone' | 'wait' | 'ask';

/** So many lines with such commas, over so long, before anything is made of them; as for any format. */
const LINES_ENOUGH = 5;
const ENOUGH_MS = 3_000;

/** Lines in the order they came. */
export function isEnough(lines: readonly { readonly atMs: number }[]): boolean {
  return lines.length >= LINES_ENOUGH && lines.at(-1)!.atMs - lines[0]!.atMs >= ENOUGH_MS;
}

/** `31,45`, `-5,4` and the like with nothing else in the line, in pairs: `31,4,45,2`. */
const BARE = /^\s*[+-]?\d+(?:,[+-]?\d+)*\s*;?\s*$/;
/** Nothing in a bowl goes faster over a line or two, °C/s; what jumps more under one meaning speaks for the other. Ours. */
const CALM_C_PER_S = 0.25;
/** And so much a reading may step by itself, °C. Ours. */
const CALM_STEP_C = 0.15;

export function commasOver(lines: readonly HeardLine[]): CommaVerdict {
  const open = lines.filter(({ text }) => isOpen(text));
  if (open.length === 0 || open.length < lines.length / 4) return 'alone';
  const width = piecesOf(open.at(-1)!.text).length;
  const like = open.flatMap(({ atMs, text }) => {
    const pieces = piecesOf(text);
    return pieces.length === width ? [{ atMs, pieces }] : [];
  });
  const spanMs = like.at(-1)!.atMs - like[0]!.atMs;
  if (width % 2 === 1) return like.some(({ pieces }) => pieces.some(hasLeadingNought)) ? 'ask' : 'separator';
  const pairs = Array.from({ length: width / 2 }, (_, pair) =>
    like.map(({ atMs, pieces }) => ({ atMs, whole: pieces[2 * pair]!, part: pieces[2 * pair + 1]! })),
  );
  const verdicts = pairs.map(verdictOf);
  if (!isEnough(like)) return 'wait';
  const [decimal, separator] = [verdicts.includes('decimal'), verdicts.includes('separator')];
  if (decimal !== separator) return decimal ? 'decimal' : 'separator';
  if (spanMs < PATIENCE_MS) return 'wait';
  return !decimal && width === 2 && verdicts[0] === 'likely' ? 'decimal' : 'ask';
}

/** A line whose commas say nothing by themselves. */
function isOpen(text: string): boolean {
  return text.includes(',') && BARE.test(text) && text.match(GLUED) !== null;
}

function piecesOf(text: string): string[] {
  return text.replace(/[;\s]/g, '').split(',');
}

function hasLeadingNought(piece: string): boolean {
  return /^0\d/.test(piece);
}

interface Pair {
  readonly atMs: number;
  readonly whole: string;
  readonly part: string;
}

/** `likely`: nothing speaks against one number, and little for two. */
type PairVerdict = 'decimal' | 'separator' | 'likely' | 'unsure';

function verdictOf(pairs: readonly Pair[]): PairVerdict {
  if (pairs.some(({ part }) => /^[+-]/.test(part))) return 'separator';
  if (pairs.some(({ part }) => hasLeadingNought(part))) return 'decimal';
  const moves = pairs.slice(1).map((after, at) => moveOf(pairs[at]!, after));
  if (moves.some(({ carries }) => carries) && moves.every(({ jumps }) => !jumps)) return 'decimal';
  if (moves.some(({ jumps }) => jumps)) return moves.some(({ carries }) => carries) ? 'unsure' : 'separator';
  const parts = pairs.map(({ part }) => Number(part));
  if (isCounting(parts)) return parts.length >= LINES_ENOUGH ? 'separator' : 'unsure';
  const digits = pairs[0]!.part.length;
  if (pairs.some(({ part }) => part.length !== digits)) return 'unsure';
  const different = new Set(parts).size;
  if (isOfSteps(pairs, digits, different)) return 'decimal';
  if (digits === 1) return different > 1 ? 'decimal' : 'likely';
  return 'unsure';
}

interface Move {
  /** The whole part steps on just as the decimal part runs over: one number. */
  readonly carries: boolean;
  /** Read as one number it jumps, because the whole part moved and the other did not: two numbers. */
  readonly jumps: boolean;
}

function moveOf(before: Pair, after: Pair): Move {
  const step = Math.abs(numberOf(after) - numberOf(before));
  const calm = Math.max(CALM_STEP_C, (CALM_C_PER_S * (after.atMs - before.atMs)) / 1000);
  const wholeMoved = Number(after.whole) !== Number(before.whole);
  const range = 10 ** Math.max(before.part.length, after.part.length);
  const partStep = Math.abs(Number(after.part) - Number(before.part)) / range;
  return {
    carries: wholeMoved && step <= calm && partStep > 0.5,
    jumps: wholeMoved && step > calm && step > 0.5 && partStep < 0.2,
  };
}

function numberOf({ whole, part }: Pair): number {
  return Number(`${whole}.${part}`);
}

/** Always the same step, up or down: a counter. */
function isCounting(parts: readonly number[]): boolean {
  const steps = parts.slice(1).map((part, at) => part - parts[at]!);
  return steps.length >= 3 && steps[0] !== 0 && steps.every((step) => step === steps[0]);
}

/** Sixteenths, eighths, quarters of a degree: what converters give, and nothing else does by chance. */
function isOfSteps(pairs: readonly Pair[], digits: number, different: number): boolean {
  const inSteps = (size: number) => pairs.every(({ part }) => Math.abs(nearest(Number(part), size) - Number(part)) < 1);
  if (digits === 4) return different >= 2 && inSteps(625);
  if (digits === 3) return different >= 2 && inSteps(125);
  return digits === 2 && ((different >= 2 && inSteps(25)) || (different >= 3 && inSteps(6.25)));
}

function nearest(value: number, size: number): number {
  return Math.round(value / size) * size;
}
