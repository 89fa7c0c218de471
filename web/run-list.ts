/** What the page asks of the list of runs: those that fit a wish, a page at a time, and what they can be narrowed to. */
import { isTile } from '../server/core/show/decode.ts';
import type { RunSummary } from '../server/core/show/listed.ts';
import { checked, isListOf } from './fetched.ts';
import { ask, hasFields } from './post.ts';
import type { Answer } from './post.ts';

/** A run's line in the list, as far as the page needs it. */
export type RunLine = Omit<RunSummary, 'bowl' | 'startedAtMs' | 'startedAtWall'>;

export interface RunLines {
  /** How many fit, on all pages. */
  readonly total: number;
  readonly runs: readonly RunLine[];
}

/** What is looked for; an empty text: whatever it is. The keys are those of the address (`RunQuery`). */
export interface RunWish {
  readonly words: string;
  readonly coating: string;
  readonly profile: string;
  readonly tag: string;
  readonly standing: string;
  readonly verdict: string;
  readonly simulated: string;
  readonly order: string;
}

export const EVERY_RUN: RunWish = {
  words: '',
  coating: '',
  profile: '',
  tag: '',
  standing: '',
  verdict: '',
  simulated: '',
  order: 'newest',
};

/** How many a page of the list holds (ours: two screens of a tablet and more). */
export const RUNS_PER_PAGE = 50;
/** The most that the server gives at once. */
const MOST_AT_ONCE = 500;

/** So many runs can be laid over one another: fewer are nothing to compare, more can't be told apart by their lines (ours). */
export const LAID_LEAST = 2;
export const LAID_MOST = 6;

export interface RunChoices {
  readonly coatings: readonly string[];
  readonly profiles: readonly { readonly id: string; readonly title: string }[];
  readonly tags: readonly string[];
}

/** Whether it asks for less than all; the order does not count. */
export function isNarrow(wish: RunWish): boolean {
  return Object.entries(wish).some(([key, value]) => key !== 'order' && value.trim() !== '');
}

/** `most`: how many, after the first `after` that fit; in as many steps as that takes. */
export function fetchRuns(wish: RunWish, after: number, most: number): Promise<Answer<RunLines>> {
  return fetchSteps(
    Object.entries(wish).filter(([, value]) => value.trim() !== ''),
    after,
    most,
  );
}

/** All that lie in the bin. */
export function fetchBin(): Promise<Answer<RunLines>> {
  return fetchSteps([['bin', 'yes']], 0, Infinity);
}

/** What is known of a list, and what came after it: a run that has moved down meanwhile is not there twice. */
export function withMore(lines: RunLines, more: RunLines): RunLines {
  const known = new Set(lines.runs.map(({ run }) => run));
  return { total: more.total, runs: [...lines.runs, ...more.runs.filter(({ run }) => !known.has(run))] };
}

export async function fetchChoices(): Promise<Answer<RunChoices>> {
  return checked(await ask('/api/run-choices'), hasFields<RunChoices>('coatings', 'profiles', 'tags'));
}

/** Into the bin, or out of it again. */
export function postBinned(run: string, binned: boolean): Promise<Answer<unknown>> {
  return ask(`/api/runs/${encodeURIComponent(run)}/bin`, { binned });
}

/** For good; only out of the bin. */
export function deleteRun(run: string): Promise<Answer<unknown>> {
  return ask(`/api/runs/${encodeURIComponent(run)}`, undefined, 'DELETE');
}

type Given = readonly (readonly [string, string])[];

async function fetchSteps(given: Given, after: number, most: number): Promise<Answer<RunLines>> {
  let lines: RunLines = { total: 0, runs: [] };
  for (let had = 0; had < most;) {
    const step = await fetchStep(given, after + had, Math.min(MOST_AT_ONCE, most - had));
    if (!step.ok) return step;
    lines = withMore(lines, step.value);
    had += step.value.runs.length;
    if (step.value.runs.length === 0 || after + had >= step.value.total) break;
  }
  return { ok: true, value: lines };
}

async function fetchStep(given: Given, after: number, most: number): Promise<Answer<RunLines>> {
  const query = new URLSearchParams(
    [...given, ['after', String(after)], ['most', String(most)]].map((each) => [...each]),
  );
  return checked(await ask(`/api/runs?${query.toString()}`), isRunLines);
}

/** Kept by an older page it may be another. */
export function isWish(value: unknown): value is RunWish {
  return (
    hasFields<RunWish>('words', 'order')(value) &&
    Object.keys(EVERY_RUN).every((key) => typeof (value as unknown as Record<string, unknown>)[key] === 'string')
  );
}

function isRunLines(value: unknown): value is RunLines {
  return hasFields<RunLines>('total', 'runs')(value) && isListOf(isRunLine)(value.runs);
}

function isRunLine(value: unknown): value is RunLine {
  const isLine = hasFields<RunLine>('run', 'title', 'beganAtWall', 'durationMs', 'visits', 'tags', 'tiles')(value);
  return isLine && Array.isArray(value.visits) && Array.isArray(value.tags) && isListOf(isTile)(value.tiles);
}
