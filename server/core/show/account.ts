/**
 * A run in figures: how long each phase took, how far it went, how long it was outside of its bounds. Everything a plain-words reading, a
 * comparison and a run sheet say of a run is taken from here. Pure: a fold over stays in phases and the estimated curve.
 */
import type { Phase, Profile } from '../record/profile.ts';
import { type CeilingOver, ceilingsOver } from './ceiling-over.ts';
import { nearEdgeC, phaseIndex } from './course.ts';
import { columnMs, isHole } from './holes.ts';
import type { PhaseVisit } from './view.ts';

/** A point of the estimated curve: feed clock, °C; null: nothing was known then. */
export type CurvePoint = readonly [atMs: number, tempC: number | null];

/** One stay in a phase. Durations in seconds, temperatures in °C; null where the curve does not say. */
export interface Stay {
  readonly phase: string;
  readonly heading: Phase['heading'];
  readonly bandC: Phase['bandC'];
  readonly enteredAtMs: number;
  readonly lastedS: number;
  /** So much of it nothing was read that could be believed. The seconds below are of what was read. */
  readonly unseenS: number;
  readonly lowestC: number | null;
  readonly highestC: number | null;
  /** When it was first so low and so high, feed clock. */
  readonly lowestAtMs: number | null;
  readonly highestAtMs: number | null;
  /** Whether the near edge of its band was reached at all; a hold is there from the beginning. */
  readonly reached: boolean;
  /** How long it stayed at or beyond the near edge, gaps included that a dwell goes on over, and how long it should have. */
  readonly keptS: number;
  readonly holdS: number;
  readonly insideBandS: number;
  /** Those over it, one after the other. */
  readonly ceilings: readonly CeilingTold[];
  readonly underFloorS: number;
  /** In a hold: under the middle of the band, where crystals grow. */
  readonly lowHalfS: number;
}

/** A ceiling over a stay: one for the seed, or one for the chocolate itself. */
export interface CeilingTold {
  readonly kind: CeilingOver['kind'];
  /** °C; null: the profile sets none there. */
  readonly limitC: number | null;
  readonly overS: number;
  /** The highest while it was over it, and when, feed clock. */
  readonly peakC: number | null;
  readonly peakAtMs: number | null;
}

export interface Account {
  readonly stays: readonly Stay[];
  readonly lastedS: number;
  /** The deepest of the cooling, and the highest after it; null: it never got that far. */
  readonly coolestC: number | null;
  readonly peakAfterSeedC: number | null;
  /** Over the working ceiling since it first guarded the seed, in whatever phase, and how far at most. */
  readonly overS: number;
  readonly overByC: number;
  /** Over the scorch ceiling before that. */
  readonly scorchS: number;
  /** Under the floor of a cooling or of the work. */
  readonly underS: number;
  /** How much of the work was read, how much of that in its band, and in the lower half of it or below. */
  readonly workReadS: number;
  readonly inWorkBandS: number;
  readonly lowHalfS: number;
  /** Nothing was read that could be believed. */
  readonly unseenS: number;
}

/** Over a gap of this length a dwell goes on, ms (design, contracts: longer ones begin it anew). */
const DWELL_GAP_MS = 30_000;

/**
 * The account of a run from its stays and its curve, oldest first, up to `endMs`. Each point stands until the next one; before a
 * hole it stands for its column. Of a curve in columns each point should be the column's own last.
 */
export function accountOf(
  profile: Profile,
  visits: readonly PhaseVisit[],
  curve: readonly CurvePoint[],
  endMs: number,
): Account {
  const ceilings = ceilingsOver(profile, visits);
  const stays = visits.flatMap((visit, i) => stayOf(profile, visit, visits[i + 1], ceilings[i] ?? [], curve, endMs));
  const under = (kind: CeilingOver['kind']): CeilingTold[] =>
    stays.flatMap((stay) => stay.ceilings.filter((each) => each.kind === kind));
  const guarded = under('working');
  const work = stays.filter(({ heading }) => heading === 'hold');
  const startMs = visits[0]?.enteredAtMs ?? endMs;
  return {
    stays,
    lastedS: seconds(endMs - startMs),
    coolestC: lowest(stays.filter(({ heading }) => heading === 'down')),
    peakAfterSeedC: peakOf(guarded),
    overS: timeOver(guarded),
    overByC: Math.max(0, ...guarded.map(overBy)),
    scorchS: timeOver(under('scorch')),
    underS: total(stays, 'underFloorS'),
    workReadS: total(work, 'lastedS') - total(work, 'unseenS'),
    inWorkBandS: total(work, 'insideBandS'),
    lowHalfS: total(work, 'lowHalfS'),
    unseenS: unseenS(piecesOf(curve, startMs, endMs), startMs, endMs),
  };
}

function stayOf(
  profile: Profile,
  visit: PhaseVisit,
  next: PhaseVisit | undefined,
  ceilings: readonly CeilingOver[],
  curve: readonly CurvePoint[],
  endMs: number,
): Stay[] {
  const phase = profile.phases[phaseIndex(profile, visit.phase)];
  if (phase === undefined) return [];
  const untilMs = visit.leftAtMs ?? endMs;
  const pieces = piecesOf(curve, visit.enteredAtMs, untilMs);
  const timeWhere = (holds: (tempC: number) => boolean, among = pieces): number =>
    seconds(among.reduce((ms, piece) => (holds(piece.tempC) ? ms + piece.ms : ms), 0));
  const lowest = extremeOf(pieces, (a, b) => a < b);
  const highest = extremeOf(pieces, (a, b) => a > b);
  const { bandC, heading, floorC = -Infinity, holdS = 0 } = phase;
  const edgeC = nearEdgeC(phase);
  const isThere = (tempC: number): boolean => (heading === 'down' ? tempC <= edgeC : tempC >= edgeC);
  return [
    {
      phase: phase.id,
      heading,
      bandC,
      holdS,
      enteredAtMs: visit.enteredAtMs,
      lastedS: seconds(untilMs - visit.enteredAtMs),
      unseenS: unseenS(pieces, visit.enteredAtMs, untilMs),
      lowestC: lowest === null ? null : round(lowest.tempC),
      highestC: highest === null ? null : round(highest.tempC),
      lowestAtMs: lowest?.atMs ?? null,
      highestAtMs: highest?.atMs ?? null,
      // A phase without a dwell is over at the moment it is reached, and nothing else is told of that.
      reached: heading === 'hold' || visit.reachedAtMs !== null || next?.by === 'reached',
      keptS: timeWhere(isThere, piecesOf(curve, visit.enteredAtMs, untilMs, DWELL_GAP_MS)),
      insideBandS: timeWhere((tempC) => tempC >= bandC[0] && tempC <= bandC[1]),
      ceilings: ceilings.map((over) => ceilingTold(over, curve, untilMs)),
      underFloorS: heading === 'up' ? 0 : timeWhere((tempC) => tempC < floorC),
      lowHalfS: heading === 'hold' ? timeWhere((tempC) => tempC < (bandC[0] + bandC[1]) / 2) : 0,
    },
  ];
}

function ceilingTold(
  { kind, limitC, ...over }: CeilingOver,
  curve: readonly CurvePoint[],
  untilMs: number,
): CeilingTold {
  const beneath = piecesOf(curve, over.fromMs, over.untilMs ?? untilMs);
  const peak = extremeOf(beneath, (a, b) => a > b);
  const overMs = beneath.reduce((ms, piece) => (limitC !== null && piece.tempC > limitC ? ms + piece.ms : ms), 0);
  return {
    kind,
    limitC,
    overS: seconds(overMs),
    peakC: peak === null ? null : round(peak.tempC),
    peakAtMs: peak?.atMs ?? null,
  };
}

interface Piece {
  readonly atMs: number;
  readonly tempC: number;
  readonly ms: number;
}

/** The curve between two moments, as temperatures that each stood for a while; gaps no longer than `bridgedMs` are none. */
function piecesOf(curve: readonly CurvePoint[], fromMs: number, untilMs: number, bridgedMs = 0): readonly Piece[] {
  const widthMs = columnMs(curve);
  const pieces: Piece[] = [];
  curve.forEach(([atMs, tempC], i) => {
    const nextMs = curve[i + 1]?.[0] ?? untilMs;
    const isLast = nextMs - atMs > bridgedMs && isHole(nextMs - atMs, widthMs);
    const beginsMs = Math.max(atMs, fromMs);
    const ms = Math.min(isLast ? atMs + widthMs : nextMs, untilMs) - beginsMs;
    if (tempC !== null && ms > 0) pieces.push({ atMs: beginsMs, tempC, ms });
  });
  return pieces;
}

/** The first of those that no other is beyond. */
function extremeOf(pieces: readonly Piece[], isBeyond: (a: number, b: number) => boolean): Piece | null {
  return pieces.reduce<Piece | null>(
    (best, piece) => (best === null || isBeyond(piece.tempC, best.tempC) ? piece : best),
    null,
  );
}

/** What the pieces leave of the time between two moments. */
function unseenS(pieces: readonly Piece[], fromMs: number, untilMs: number): number {
  return seconds(pieces.reduce((left, { ms }) => left - ms, untilMs - fromMs));
}

function overBy({ limitC, peakC }: CeilingTold): number {
  return limitC === null || peakC === null ? 0 : round(Math.max(0, peakC - limitC));
}

function timeOver(ceilings: readonly CeilingTold[]): number {
  return ceilings.reduce((sum, { overS }) => sum + overS, 0);
}

function lowest(stays: readonly Stay[]): number | null {
  const all = stays.flatMap(({ lowestC }) => lowestC ?? []);
  return all.length === 0 ? null : Math.min(...all);
}

function peakOf(ceilings: readonly CeilingTold[]): number | null {
  const all = ceilings.flatMap(({ peakC }) => peakC ?? []);
  return all.length === 0 ? null : Math.max(...all);
}

type Seconds = 'underFloorS' | 'lastedS' | 'unseenS' | 'insideBandS' | 'lowHalfS';

function total(stays: readonly Stay[], of: Seconds): number {
  return stays.reduce((sum, stay) => sum + stay[of], 0);
}

function seconds(ms: number): number {
  return Math.round(ms / 1000);
}

/** To a hundredth of a degree, as everything published. */
function round(tempC: number): number {
  return Math.round(tempC * 100) / 100;
}
