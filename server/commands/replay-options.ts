/** The words after `bowlside replay`: from text to one checked set of options, or one line saying what is wrong. Opens nothing. */
import { PROBE_LAG_MAX_S } from '../core/record/run.ts';
import { readTyped } from '../typed.ts';

export interface ReplayOptions {
  readonly file: string;
  /** Id of a profile, or a path to one; null: the file's own. */
  readonly profile: string | null;
  readonly json: boolean;
  /** Milliseconds from one estimate to the next; null: none. */
  readonly estimatesEveryMs: number | null;
  /** null: as the file says. */
  readonly probeLagS: number | null;
  readonly timing: boolean;
  readonly check: boolean;
}

/** Closer together than the engine's own grid they would say nothing new, seconds (ours); a day is the other end. */
const ESTIMATES_MIN_S = 0.1;
const ESTIMATES_MAX_S = 86_400;

const OPTIONS = {
  profile: { type: 'string' },
  json: { type: 'boolean' },
  estimates: { type: 'string' },
  'probe-lag': { type: 'string' },
  timing: { type: 'boolean' },
  check: { type: 'boolean' },
} as const;

export type ReplayOptionsResult =
  { readonly ok: true; readonly options: ReplayOptions } | { readonly ok: false; readonly reason: string };

/** Never throws. */
export function readReplayOptions(argv: readonly string[]): ReplayOptionsResult {
  const typed = readTyped('replay', argv, OPTIONS);
  if (!typed.ok) return { ok: false, reason: typed.complaint };
  const { values, words } = typed;
  const [file, second] = words;
  if (file === undefined || file === '') return { ok: false, reason: 'a FILE is wanted, .csv or .jsonl' };
  if (second !== undefined) return { ok: false, reason: `one FILE at a time: ${file} or ${second}?` };
  const estimatesS = secondsFrom('--estimates', values.estimates, ESTIMATES_MIN_S, ESTIMATES_MAX_S);
  if (typeof estimatesS === 'string') return { ok: false, reason: estimatesS };
  const probeLagS = secondsFrom('--probe-lag', values['probe-lag'], 0, PROBE_LAG_MAX_S);
  if (typeof probeLagS === 'string') return { ok: false, reason: probeLagS };
  const { profile = null, json = false, timing = false, check = false } = values;
  const estimatesEveryMs = estimatesS === null ? null : estimatesS * 1000;
  return { ok: true, options: { file, profile, json, estimatesEveryMs, probeLagS, timing, check } };
}

/** null where it was not given; text says what is wrong with it. */
function secondsFrom(option: string, text: string | undefined, lowS: number, highS: number): number | string | null {
  if (text === undefined) return null;
  const seconds = /^\d*\.?\d+$/.test(text) ? Number(text) : NaN;
  return seconds >= lowS && seconds <= highS
    ? seconds
    : `${option} ${text}: seconds from ${lowS} to ${highS} are wanted`;
}
