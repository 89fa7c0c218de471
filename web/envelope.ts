/**
 * The envelope of a profile's best runs: how low and how high those judged good were, in steps from their entry of each phase on.
 * Fetched apart from the page, and only where somebody wants to see it.
 */
import type { CurvePoint } from '../server/core/show/account.ts';
import type { RunInfo } from '../server/core/show/wire.ts';
import { fetchRun } from './fetched.ts';
import type { Answer } from './post.ts';
import { drawn } from './road/envelope.ts';
import type { DrawnEnvelope, Envelope, Spread } from './road/model.ts';
import { curveOf } from '../server/core/show/account-curve.ts';
import { EVERY_RUN, fetchRuns } from './run-list.ts';
import type { RunLine } from './run-list.ts';

/** So many of the newest are taken (ours: enough to show what varies; older ones were cooked with other chocolate). */
export const BEST_MOST = 5;
/** Length of a step, ms (ours: no stored curve has points further apart). */
const STEP_MS = 15_000;
/** The envelope of a phase ends where fewer than this share of its runs are still in it (ours: the slowest one alone is no measure). */
const LEAST_SHARE = 0.5;

/** What is needed of a run to be one of them: phases as they were entered, and the estimated curve, both on that run's own clock. */
export interface BestRun {
  readonly visits: RunLine['visits'];
  readonly endedAtMs: number;
  readonly curve: readonly CurvePoint[];
}

/**
 * The newest runs of the same profile that were judged good, no more than `BEST_MOST`, without the run itself. Simulated ones count
 * for a simulated run alone.
 */
export async function fetchBestLines({ run, profile, simulated }: RunInfo): Promise<Answer<readonly RunLine[]>> {
  const wish = { ...EVERY_RUN, profile: profile.id, verdict: 'good', simulated: simulated ? '' : 'no' };
  const answer = await fetchRuns(wish, 0, BEST_MOST + 1);
  if (!answer.ok) return answer;
  const others = answer.value.runs.filter((line) => line.run !== run && line.endedAtMs !== null);
  return { ok: true, value: others.slice(0, BEST_MOST) };
}

/** null: none was judged good, or they can't be had now. */
export async function fetchEnvelope(info: RunInfo): Promise<DrawnEnvelope | null> {
  const lines = await fetchBestLines(info);
  if (!lines.ok) return null;
  const runs = await Promise.all(lines.value.map(bestOf));
  const had = runs.filter((run) => run !== null);
  return had.length === 0 ? null : drawn(envelopeOf(had));
}

async function bestOf({ run, visits }: RunLine): Promise<BestRun | null> {
  const answer = await fetchRun(run);
  if (!answer.ok || answer.value.endedAtMs === null) return null;
  return { visits, endedAtMs: answer.value.endedAtMs, curve: curveOf(answer.value.tiles, []) };
}

/** Of each run the first stay in a phase counts. */
export function envelopeOf(runs: readonly BestRun[]): Envelope {
  const phases = new Set(runs.flatMap(({ visits }) => visits.map(({ phase }) => phase)));
  return {
    stepMs: STEP_MS,
    phases: Object.fromEntries(
      [...phases].map((phase) => [phase, spreadsOf(runs.flatMap((run) => stayOf(run, phase)))]),
    ),
  };
}

/** A stay in a phase: how many steps it lasted, begun ones counted, and its curve counted from its entry, ms. */
interface Stay {
  readonly steps: number;
  readonly curve: readonly CurvePoint[];
}

function stayOf({ visits, endedAtMs, curve }: BestRun, phase: string): readonly Stay[] {
  const at = visits.findIndex((visit) => visit.phase === phase);
  if (at < 0) return [];
  const fromMs = visits[at]!.atMs;
  const toMs = visits[at + 1]?.atMs ?? endedAtMs;
  const within = curve.filter(([atMs]) => atMs >= fromMs && atMs < toMs);
  return [
    { steps: Math.ceil((toMs - fromMs) / STEP_MS), curve: within.map(([atMs, tempC]) => [atMs - fromMs, tempC]) },
  ];
}

function spreadsOf(stays: readonly Stay[]): readonly (Spread | null)[] {
  const longestFirst = stays.map(({ steps }) => steps).toSorted((a, b) => b - a);
  const steps = longestFirst[Math.ceil(stays.length * LEAST_SHARE) - 1] ?? 0;
  const spreads = Array.from({ length: steps }, (): Spread | null => null);
  for (const { curve } of stays)
    for (const [sinceMs, tempC] of curve) {
      const step = Math.floor(sinceMs / STEP_MS);
      if (tempC !== null && step < steps) spreads[step] = wider(spreads[step] ?? null, tempC);
    }
  return spreads;
}

function wider(spread: Spread | null, tempC: number): Spread {
  return spread === null ? [tempC, tempC] : [Math.min(spread[0], tempC), Math.max(spread[1], tempC)];
}
