/** What stands along the edges of the map: times in words, elapsed times, and the few temperatures that mean something. */
import type { Phase } from '../../server/core/record/profile.ts';
import type { Range } from './range.ts';
import type { TimeSpan } from './window.ts';
import { fromUnit, inUnit, stepInUnit } from '../words/manner.ts';
import { bound } from '../words/measure.ts';
import { FOOT } from '../words/road.ts';

export interface Tick {
  readonly atMs: number;
  readonly text: string;
  /** Said instead where the text doesn't fit. */
  readonly short: string;
  /** 0 is kept first where two would touch. */
  readonly rank: number;
  readonly isNow: boolean;
}

export interface Level {
  readonly valueC: number;
  readonly text: string;
  /** 0 is kept first where two would touch. */
  readonly rank: number;
}

const MINUTE_MS = 60_000;
/** Distances between times, minutes (ours: those people count in). */
export const STEPS_MIN = [1, 2, 3, 5, 10, 15, 30, 60, 120, 240, 480];
/** Look-ahead marks, minutes: the forecast's reach, and the panel's. */
const AHEAD_MIN = [3, 6];
/** Round temperatures on a long way, at most. */
const ROUND_LEVELS = 2;

/** "15 min ago, 10, 5, now, in 3 min". `most`: how many times there is room for behind now. */
export function wordTicks(view: TimeSpan, nowMs: number, most: number): Tick[] {
  const backMin = (nowMs - view.fromMs) / MINUTE_MS;
  const stepMin = STEPS_MIN.find((step) => backMin / step <= most + 0.999) ?? STEPS_MIN.at(-1)!;
  const count = Math.max(0, Math.floor(backMin / stepMin));
  const back = Array.from({ length: count }, (_, i) => (count - i) * stepMin);
  const ahead = AHEAD_MIN.filter((minutes) => nowMs + minutes * MINUTE_MS <= view.toMs);
  return [
    ...back.map((minutes, i) =>
      tick(nowMs - minutes * MINUTE_MS, i === 0 ? FOOT.ago(minutes) : String(minutes), i === 0 ? 1 : 2),
    ),
    nowTick(nowMs),
    ...ahead.map((minutes, i) => aheadTick(nowMs, minutes, i, ahead.length)),
  ];
}

/** The bounds of a phase that lie inside a range, most needed first; on a long way at most two round numbers besides. */
export function levels(phase: Phase, [lowC, highC]: Range): Level[] {
  const { bandC, ceilingC, lostAboveC, floorC } = phase;
  const named = [...bandC, ceilingC, lostAboveC, floorC].filter((value) => value !== undefined);
  const inside = [...new Set(named)].filter((value) => value >= lowC && value <= highC);
  const bounds = inside.map((valueC, rank) => ({ valueC, text: bound(valueC), rank }));
  return [...bounds, ...roundLevels(named, lowC, highC)];
}

function roundLevels(named: readonly number[], lowC: number, highC: number): Level[] {
  /* Round in the viewer's unit; a step of ten where five would crowd. */
  const step = stepInUnit(highC - lowC) > 16 ? 10 : 5;
  const clearC = (highC - lowC) / 8;
  const nearBound = (value: number): boolean => named.some((each) => Math.abs(each - value) < clearC);
  if (highC - lowC < 8) return [];
  const round: Level[] = [];
  for (let value = Math.ceil(inUnit(lowC) / step) * step; value < inUnit(highC); value += step) {
    const valueC = fromUnit(value);
    if (!nearBound(valueC) && valueC > lowC + clearC / 2) round.push({ valueC, text: String(value), rank: 9 });
  }
  return round.slice(-ROUND_LEVELS);
}

export function tick(atMs: number, text: string, rank: number): Tick {
  return { atMs, text, short: FOOT.withoutUnit(text), rank, isNow: false };
}

/** The present, wherever a view holds it. */
export function nowTick(nowMs: number): Tick {
  return { ...tick(nowMs, FOOT.now, 0), isNow: true };
}

/** Where it has no room, the last leaves out the "in": after "now" it is plain which way. It never stands without its unit. */
function aheadTick(nowMs: number, minutes: number, index: number, count: number): Tick {
  const whole = tick(nowMs + minutes * MINUTE_MS, aheadWords(minutes, index, count), index + 1);
  return index === count - 1 ? { ...whole, short: FOOT.minutes(minutes) } : whole;
}

/** Alone: "in 3 min". Of several only the last names the unit: "3 · 6 min". */
function aheadWords(minutes: number, index: number, count: number): string {
  if (count === 1) return FOOT.ahead(minutes);
  return index === count - 1 ? FOOT.minutes(minutes) : String(minutes);
}
