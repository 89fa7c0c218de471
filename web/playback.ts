/**
 * Paces a stored run: a head that moves over it, and what stood at that moment by the same fold as live. Never judges anew.
 * Pure; the page brings the time that has passed.
 */
import type { Estimate } from '../server/core/bowl/estimate.ts';
import type { RunEvent } from '../server/core/record/event.ts';
import { beganAtMs, foldEvents, foldNote, openView } from '../server/core/show/view.ts';
import type { View } from '../server/core/show/view.ts';
import type { WireReading } from '../server/core/show/wire.ts';
import { NO_MOMENT } from './moment.ts';
import type { OpenedRun } from './fetched.ts';
import type { Moment } from './words/sentence.ts';

export const SPEEDS = [1, 4, 10, 30, 60, 120, 240] as const;
export type Speed = (typeof SPEEDS)[number];

export interface Playback {
  readonly startMs: number;
  readonly endMs: number;
  /** Feed clock of the moment shown. */
  readonly headMs: number;
  readonly speed: Speed;
  readonly isPlaying: boolean;
}

/** A reading older than this at the head is a gap, ms (the live page calls it no reading after the same time). */
const GAP_MS = 10_000;
/** The trend is taken over this stretch of recorded estimates, ms (ours: long enough to be calm, short enough to turn). */
const TREND_MS = 60_000;
/** Over less than this a trend is chance, ms (ours). */
const LEAST_TREND_MS = 10_000;

/** Stands at the end, where the whole run is told. */
export function openPlayback(run: OpenedRun): Playback {
  const startMs = beganAtMs(run.info, viewAt(run, Infinity).visits);
  const lasts = [run.endedAtMs, run.events.at(-1)?.atMs, run.tiles.at(-1)?.[0]];
  const endMs = Math.max(startMs, ...lasts.map((atMs) => atMs ?? startMs));
  return { startMs, endMs, headMs: endMs, speed: 10, isPlaying: false };
}

/** Of the same run as it stands now: one that was still going has a later end, and a head that stood at the end goes along. */
export function renewed(playback: Playback, run: OpenedRun): Playback {
  const { endMs } = openPlayback(run);
  if (endMs === playback.endMs) return playback;
  const wasAtEnd = playback.headMs >= playback.endMs;
  return { ...playback, endMs, headMs: wasAtEnd ? endMs : Math.min(endMs, playback.headMs) };
}

/** After `elapsedMs` of the viewer's time. Stops at the end. */
export function advance(playback: Playback, elapsedMs: number): Playback {
  if (!playback.isPlaying) return playback;
  const headMs = Math.min(playback.endMs, playback.headMs + elapsedMs * playback.speed);
  return { ...playback, headMs, isPlaying: headMs < playback.endMs };
}

/** Plays from the head, or from the start where the head stands at the end. */
export function play(playback: Playback): Playback {
  const headMs = playback.headMs >= playback.endMs ? playback.startMs : playback.headMs;
  return { ...playback, headMs, isPlaying: true };
}

export function stop(playback: Playback): Playback {
  return { ...playback, isPlaying: false };
}

export function moveTo(playback: Playback, atMs: number): Playback {
  return { ...playback, headMs: Math.min(playback.endMs, Math.max(playback.startMs, atMs)) };
}

/** One step slower (-1) or faster (+1); stays within the speeds there are. */
export function changeSpeed(playback: Playback, by: -1 | 1): Playback {
  const at = SPEEDS.indexOf(playback.speed) + by;
  return { ...playback, speed: SPEEDS[Math.min(SPEEDS.length - 1, Math.max(0, at))]! };
}

/** The moment of the next event a reader would ask about, or of the one before; past the last it stays. `moments`: oldest first. */
export function toEvent(playback: Playback, moments: readonly number[], by: -1 | 1): Playback {
  const { headMs } = playback;
  const next = by === 1 ? moments.find((atMs) => atMs > headMs) : moments.findLast((atMs) => atMs < headMs);
  return next === undefined ? playback : moveTo(stop(playback), next);
}

/** The fold up to the head: what a page would have shown then. */
export function viewAt(run: OpenedRun, headMs: number): View {
  const events = run.events.filter((event: RunEvent) => event.atMs <= headMs);
  const notes = run.notes.filter((note) => note.atMs <= headMs);
  return notes.reduce(foldNote, foldEvents(openView(run.info), events));
}

/** Marks how far the fold goes at the head: as long as it stays the same, `viewAt` gives the same. */
export function foldedAt(run: OpenedRun, headMs: number): string {
  const upTo = ({ atMs }: { readonly atMs: number }): boolean => atMs <= headMs;
  return `${run.events.filter(upTo).length} ${run.notes.filter(upTo).length}`;
}

/**
 * What was read and estimated at the head, by what was read in the minutes up to it. Neither forecasts nor how it was stirred are
 * recorded, so none is given.
 */
export function momentAt(rows: readonly WireReading[], view: View, headMs: number): Moment {
  const at = lastUpTo(rows, headMs);
  const reading = rows[at];
  const probeOutSinceMs = view.probeOutSinceMs;
  if (reading === undefined) {
    return { ...NO_MOMENT, atMs: headMs, probeOutSinceMs };
  }
  const [atMs, valueC] = reading;
  const stale = headMs - atMs > GAP_MS;
  return {
    ...NO_MOMENT,
    atMs: headMs,
    reading: { valueC, atMs, quality: 'good' },
    stale,
    probeOutSinceMs,
    estimate: stale ? null : estimateFrom(rows, at, view.phase),
  };
}

function estimateFrom(readings: readonly WireReading[], at: number, phase: string | null): Estimate | null {
  const newest = readings[at];
  if (newest === undefined || newest[3] === null) return null;
  const [atMs, , , tempC] = newest;
  const from = readings[Math.max(0, lastUpTo(readings, atMs - TREND_MS))];
  if (from === undefined || from[3] === null || atMs - from[0] < LEAST_TREND_MS) return null;
  const rateCPerMin = ((tempC - from[3]) / (atMs - from[0])) * 60_000;
  return { kind: 'estimate', atMs, phase, tempC, rateCPerMin, etaS: null, etaLowS: null, etaHighS: null, peakC: null };
}

/** Position of the newest good reading not after the moment, or -1. */
function lastUpTo(readings: readonly WireReading[], atMs: number): number {
  let low = 0;
  let high = readings.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (readings[middle]![0] <= atMs) low = middle + 1;
    else high = middle;
  }
  let at = low - 1;
  while (at >= 0 && readings[at]![2] !== 0) at -= 1;
  return at;
}
