/**
 * A probe's lag from a plunge: it rests in the room until steady, goes into something stirred at another temperature, and is kept there
 * until steady again. The lag is the time from the plunge to 63.2 % of the step (definition; domain §5.6).
 * Knows the readings of one probe only: no device, no words, no filter.
 */

/** Times are ms of one monotonic clock, never going back; values are °C as read, not corrected: an offset cancels out. */
export interface PlungeReading {
  readonly atMs: number;
  readonly valueC: number;
}

/** How the rise goes on from its first half, by t90/t50: as of first order, held up at first by heat soaking in, or trailing at the end. */
export type Rise = 'first-order' | 'soaking' | 'trailing';

export interface MeasuredLag {
  readonly ok: true;
  /** Seconds, the number to use: `to63S`, or `by90S` where the heat soaks in first (domain §5.6). */
  readonly lagS: number;
  /**
   * The lag lies between these, seconds: what is left open by readings being apart, by steps and by scatter; where the rise is not
   * of first order, by both ways of reckoning.
   */
  readonly lowS: number;
  readonly highS: number;
  /** From the plunge to 63.2 % of the step, seconds. */
  readonly to63S: number;
  /** From the plunge to 90 % of the step, divided by ln 10, seconds: the same number where the probe is of first order. */
  readonly by90S: number;
  readonly rise: Rise;
  /** t90/t50. */
  readonly ratio: number;
  readonly plungedAtMs: number;
  readonly fromC: number;
  readonly toC: number;
}

/** Why there is no lag, with what a person has to know of it. */
export type NoLag =
  | { readonly ok: false; readonly why: 'never-steady' }
  | { readonly ok: false; readonly why: 'no-plunge'; readonly restC: number }
  /** Not steady after the plunge by the last reading; `cPerMin` there. */
  | { readonly ok: false; readonly why: 'still-changing'; readonly cPerMin: number }
  /** The step is small beside what the readings tell apart; `wantedC` would do. */
  | { readonly ok: false; readonly why: 'small-step'; readonly stepC: number; readonly wantedC: number }
  /** Over within a few readings: all that can be said is that the lag is under `underS`, seconds. */
  | { readonly ok: false; readonly why: 'few-readings'; readonly underS: number }
  /** No reading for so long during the rise, seconds. */
  | { readonly ok: false; readonly why: 'gap'; readonly gapS: number };

export type LagOutcome = MeasuredLag | NoLag;

/** What readings kept to for a while. */
interface Level {
  readonly midC: number;
  /** By how much the second half lies over the first, °C. */
  readonly driftC: number;
  readonly paceCPerS: number;
  /** Spread of the readings about their half's mean, one standard deviation, °C. */
  readonly scatterC: number;
}

/** A plunge as it is being watched. Plain data; `watchPlunge` works in place. */
export interface Plunge {
  stage: 'unsteady' | 'steady' | 'plunged' | 'over';
  /** The last while before the plunge, and everything from there on. */
  readings: PlungeReading[];
  /** The level before the plunge, and when it was last kept to. */
  rest: Level | null;
  restedAtMs: number;
  /** The level after it, once there is one. */
  settled: Level | null;
}

/** A level is one kept to for so long before the plunge, and so long after it or one lag if that is longer; seconds. Ours. */
const REST_S = 10;
const SETTLED_S = 8;
/** and by so many readings. Ours. */
const LEVEL_READINGS = 5;
/** Before the plunge its halves lie no further apart than this, °C, or than a step of the thermometer. Ours: what a room does by itself. */
const REST_DRIFT_C = 0.1;
/** and readings spread no further about each half, one standard deviation, °C, or by a step. Ours: what moves more is on its way. */
const REST_SCATTER_C = 0.3;
/** After it, than this share of the step, or half a step of the thermometer. Ours: five lags after a plunge so much is still to come. */
const SETTLED_DRIFT = 0.005;
/** So many lags lie between the plunge and the level after it. Ours, for the same reason. */
const SETTLED_LAGS = 4;
/** Two readings running further than this from the level are a plunge, °C. Ours: a hand or warm air near the probe does less. */
const SEEN_C = 3;
/** A level left longer ago than this is not what the probe was plunged from; readings are kept twice as long. Seconds; ours. */
const REST_HELD_S = 30;
/** A rise that is not over by then will not be, seconds. Ours: no probe meant for chocolate has a lag of a minute. */
const RISE_MOST_S = 300;
/** The step is to be so many times what the readings tell apart, so that each is 2.5 % of it, and this at least, °C. Ours. */
const STEP_TIMES = 40;
const STEP_LEAST_C = 5;
/** No thermometer has coarser steps, °C: further apart are two moments of a quick rise. Ours. */
const COARSEST_STEP_C = 1;
/** Below this share of the step, or below twice what the readings tell apart, a probe may be at rest. Ours: steam does a little. */
const AT_REST = 0.02;
/** So many readings on the way from there to this share of the step show how a rise goes, the first of them before its half. Ours. */
const RISE_READINGS = 4;
const RISEN = 0.95;
/** A spacing so many times the usual one is a gap. Ours. */
const GAP_TIMES = 3;
/** Share of the step after one lag: 63.2 % (definition). */
const AT_LAG = 1 - Math.exp(-1);
/** t90/t50 of a first-order probe: ln 10 / ln 2 = 3.32 (exact, domain §5.6). */
const FIRST_ORDER_RATIO = Math.LN10 / Math.LN2;
/** Further off than this share is not of first order. Ours. */
const RATIO_SHARE = 0.1;
/** Between two readings a rise is taken to go as of first order, up to this share of the step; beyond, it says nothing. Ours. */
const NEARLY_ALL = 0.99;

export function startPlunge(): Plunge {
  return { stage: 'unsteady', readings: [], rest: null, restedAtMs: 0, settled: null };
}

/** The lag from the readings of a plunge. What comes after the probe has settled is not looked at. */
export function lagFromPlunge(readings: Iterable<PlungeReading>): LagOutcome {
  const plunge = startPlunge();
  for (const reading of readings) watchPlunge(plunge, reading);
  return lagOf(plunge);
}

/** Takes the next reading; once it is over nothing changes any more. */
export function watchPlunge(plunge: Plunge, reading: PlungeReading): void {
  if (plunge.stage === 'over') return;
  plunge.readings.push(reading);
  if (plunge.stage !== 'plunged' && !isPlunged(plunge)) return watchRest(plunge);
  plunge.stage = 'plunged';
  plunge.settled = settledLevel(plunge);
  if (plunge.settled !== null || reading.atMs - plunge.restedAtMs > RISE_MOST_S * 1000) plunge.stage = 'over';
}

/** What can be said by the readings so far: the lag, or why there is none. */
export function lagOf({ stage, readings, rest, settled }: Readonly<Plunge>): LagOutcome {
  if (rest === null) return { ok: false, why: 'never-steady' };
  if (stage === 'unsteady' || stage === 'steady') return { ok: false, why: 'no-plunge', restC: rest.midC };
  if (settled === null) return { ok: false, why: 'still-changing', cPerMin: lastPace(readings) };
  return measured(readings, rest, settled);
}

function isPlunged({ rest, restedAtMs, readings }: Plunge): boolean {
  const [before, last] = readings.slice(-2);
  if (rest === null || before === undefined || last === undefined) return false;
  const off = [before, last].map(({ valueC }) => valueC - rest.midC);
  const farOff = off.every((offC) => offC > SEEN_C) || off.every((offC) => offC < -SEEN_C);
  return farOff && last.atMs - restedAtMs <= REST_HELD_S * 1000;
}

function watchRest(plunge: Plunge): void {
  const nowMs = plunge.readings.at(-1)!.atMs;
  plunge.readings = plunge.readings.filter(({ atMs }) => nowMs - atMs <= 2 * REST_HELD_S * 1000);
  const latest = lately(plunge.readings, REST_S);
  const level = latest === null ? null : levelOf(latest);
  const steady = level !== null && isRest(level, stepOf(latest!));
  plunge.stage = steady ? 'steady' : 'unsteady';
  if (!steady) return;
  plunge.rest = level;
  plunge.restedAtMs = nowMs;
}

function isRest({ driftC, scatterC }: Level, stepC: number): boolean {
  return Math.abs(driftC) <= Math.max(REST_DRIFT_C, stepC) && scatterC <= Math.max(REST_SCATTER_C, stepC);
}

/** The level the probe has come to, or null while it has not: long enough after the plunge, kept for long enough. */
function settledLevel({ readings, rest }: Plunge): Level | null {
  const first = lately(readings, SETTLED_S);
  if (first === null || rest === null) return null;
  const wayC = levelOf(first).midC - rest.midC;
  // Fallen back to where it was: a level all right, and the step from it will be found too small.
  const rise = Math.abs(wayC) < SEEN_C ? null : riseOf(readings, rest.midC, wayC, AT_REST);
  const lagS = rise === null ? 0 : (crossedMs(rise, AT_LAG) - rise.restMs) / 1000;
  const latest = lately(readings, Math.max(SETTLED_S, lagS));
  if (latest === null || (rise !== null && latest[0]!.atMs < rise.restMs + SETTLED_LAGS * lagS * 1000)) return null;
  const level = levelOf(latest);
  const driftMostC = rise === null ? REST_DRIFT_C : Math.max(SETTLED_DRIFT * Math.abs(wayC), stepOf(readings) / 2);
  if (Math.abs(level.driftC) > driftMostC) return null;
  // T = Tp + τ·dTp/dt (domain §5.6): what the probe still has to go is not missing from the step.
  return { ...level, midC: level.midC + lagS * level.paceCPerS };
}

function measured(readings: readonly PlungeReading[], seenRest: Level, settled: Level): LagOutcome {
  const rest = restBefore(readings, seenRest, settled.midC);
  const stepC = settled.midC - rest.midC;
  const scatterC = Math.max(rest.scatterC, settled.scatterC);
  const tellsC = Math.max(stepOf(readings), 2 * scatterC);
  const wantedC = Math.max(STEP_LEAST_C, STEP_TIMES * tellsC);
  if (Math.abs(stepC) < wantedC) return { ok: false, why: 'small-step', stepC, wantedC };
  const rise = riseOf(readings, rest.midC, stepC, Math.max(AT_REST, (2 * tellsC) / Math.abs(stepC)));
  const unseen = unseenIn(rise, usualSpacingMs(readings));
  if (unseen !== null) return unseen;
  const levelShare = (stepOf(readings) + 2 * scatterC) / Math.abs(stepC);
  return { ...lagIn(rise, levelShare), fromC: rest.midC, toC: settled.midC };
}

/** The level before the plunge without the first readings of the rise, which are not yet seen for one while they come in. */
function restBefore(readings: readonly PlungeReading[], seen: Level, toC: number): Level {
  const { restIndex } = riseOf(readings, seen.midC, toC - seen.midC, AT_REST);
  const before = lately(readings.slice(0, restIndex + 1), REST_S);
  return before === null ? seen : levelOf(before);
}

/** A rise as shares of its step, 0 before it and 1 after it. */
interface RisePoints {
  readonly atMs: readonly number[];
  readonly share: readonly number[];
  /** The last reading that may be from before the plunge: below `restShare`. */
  readonly restIndex: number;
  readonly restMs: number;
  readonly restShare: number;
}

function riseOf(readings: readonly PlungeReading[], fromC: number, stepC: number, restShare: number): RisePoints {
  const share = readings.map(({ valueC }) => (valueC - fromC) / stepC);
  const half = share.findIndex((each, index) => each >= 0.5 && (share[index + 1] ?? 1) >= 0.5);
  const restIndex = Math.max(
    0,
    share.findLastIndex((each, index) => index < half && each < restShare),
  );
  return {
    atMs: readings.map(({ atMs }) => atMs),
    share,
    restIndex,
    restMs: readings[restIndex]!.atMs,
    restShare,
  };
}

/** When the rise went through a share of its step: the middle between the first time and the last, for readings scatter. */
function crossedMs(rise: RisePoints, level: number): number {
  const { share, restIndex } = rise;
  const first = share.findIndex((each, index) => index > restIndex && each >= level);
  const last = share.findLastIndex((each) => each < level);
  return (betweenMs(rise, first - 1, level) + betweenMs(rise, last, level)) / 2;
}

/** Between a reading below the level and the next, at or above it: exact for a first-order rise. */
function betweenMs({ atMs, share }: RisePoints, index: number, level: number): number {
  const [from, to] = [share[index]!, share[index + 1] ?? NEARLY_ALL].map(logLeft) as [number, number];
  const part = (logLeft(level) - from) / (to - from);
  return atMs[index]! + part * ((atMs[index + 1] ?? atMs[index]!) - atMs[index]!);
}

/** −ln of the share that is left to go: of a first-order rise it grows evenly with time. */
function logLeft(share: number): number {
  return -Math.log(1 - Math.min(share, NEARLY_ALL));
}

/** Whether too few readings, or a hole in them, hide how the rise went. */
function unseenIn({ atMs, share, restIndex, restMs }: RisePoints, usualMs: number): NoLag | null {
  const afterRest = (level: number): number => share.findIndex((each, index) => index > restIndex && each >= level);
  const risen = afterRest(RISEN);
  const onTheWay = risen - restIndex - 1;
  const spacings = atMs
    .slice(restIndex, risen + 1)
    .map((each, index) => each - atMs[restIndex + Math.max(0, index - 1)]!);
  const gapMs = Math.max(...spacings);
  if (gapMs > GAP_TIMES * usualMs) return { ok: false, why: 'gap', gapS: gapMs / 1000 };
  if (onTheWay >= RISE_READINGS && afterRest(0.5) > restIndex + 1) return null;
  return { ok: false, why: 'few-readings', underS: (atMs[afterRest(AT_LAG)]! - restMs) / 1000 };
}

/** `levelShare`: the share of the step that the levels and a reading may be off by. */
function lagIn(rise: RisePoints, levelShare: number): Omit<MeasuredLag, 'fromC' | 'toC'> {
  const [t50, t63, t90] = [0.5, AT_LAG, 0.9].map((level) => crossedMs(rise, level)) as [number, number, number];
  const [earliestMs, latestMs] = plungedBetween(rise);
  const ratioFrom = (plungeMs: number): number => (t90 - plungeMs) / (t50 - plungeMs);
  // Where a first-order rise through 50 and 90 % would have begun, so far as that can be.
  const begunMs = within(t50 - ((t90 - t50) * Math.LN2) / Math.log(5), earliestMs, latestMs);
  const kind = riseKind(ratioFrom(begunMs));
  const plungedAtMs = kind === 'first-order' ? begunMs : (earliestMs + latestMs) / 2;
  const to63S = (t63 - plungedAtMs) / 1000;
  const by90S = (t90 - plungedAtMs) / 1000 / Math.LN10;
  // The rise goes through 63.2 % at the pace of 36.8 % of the step in one lag.
  const levelS = (levelShare * to63S) / (1 - AT_LAG);
  const lowS = Math.max(0, (t63 - latestMs) / 1000 - levelS);
  const highS = (t63 - earliestMs) / 1000 + levelS;
  const numbers = { to63S, by90S, rise: kind, ratio: ratioFrom(plungedAtMs), plungedAtMs };
  if (kind === 'first-order') return { ok: true, lagS: to63S, lowS, highS, ...numbers };
  const both = { lowS: Math.min(lowS, by90S - levelS), highS: Math.max(highS, by90S + levelS) };
  return { ok: true, lagS: kind === 'soaking' ? by90S : to63S, ...both, ...numbers };
}

/**
 * The plunge came before the first reading that shows it, and not long before the last that does not: even a rise that begins with
 * the square of time takes no longer to a share of its step than from there to four times that share.
 */
function plungedBetween(rise: RisePoints): readonly [earliestMs: number, latestMs: number] {
  const { atMs, restIndex, restMs, restShare } = rise;
  const shownMs = crossedMs(rise, restShare);
  return [Math.min(restMs, 2 * shownMs - crossedMs(rise, 4 * restShare)), atMs[restIndex + 1]!];
}

function riseKind(ratio: number): Rise {
  if (ratio < FIRST_ORDER_RATIO * (1 - RATIO_SHARE)) return 'soaking';
  return ratio > FIRST_ORDER_RATIO * (1 + RATIO_SHARE) ? 'trailing' : 'first-order';
}

/** The last readings, over so many seconds and of so many, or null while there are not enough of them. */
function lately(readings: readonly PlungeReading[], seconds: number): readonly PlungeReading[] | null {
  const fromMs = (readings.at(-1)?.atMs ?? 0) - seconds * 1000;
  const start = readings.findLastIndex(({ atMs }) => atMs <= fromMs);
  return start === -1 || readings.length < LEVEL_READINGS
    ? null
    : readings.slice(Math.min(start, readings.length - LEVEL_READINGS));
}

function levelOf(readings: readonly PlungeReading[]): Level {
  const middle = readings.length >> 1;
  const halves = [readings.slice(0, middle), readings.slice(middle)].map((half) => ({
    atMs: mean(half.map(({ atMs }) => atMs)),
    midC: mean(half.map(({ valueC }) => valueC)),
    values: half.map(({ valueC }) => valueC),
  }));
  const [first, second] = halves as [(typeof halves)[0], (typeof halves)[0]];
  const driftC = second.midC - first.midC;
  const squares = halves.flatMap(({ midC, values }) => values.map((valueC) => (valueC - midC) ** 2));
  return {
    midC: mean(readings.map(({ valueC }) => valueC)),
    driftC,
    paceCPerS: (driftC / (second.atMs - first.atMs)) * 1000,
    scatterC: Math.sqrt(sum(squares) / (readings.length - 2)),
  };
}

/** The finest difference that the readings make, °C; 0 where they make none that a thermometer's step could be. */
export function stepOf(readings: readonly PlungeReading[]): number {
  const values = [...new Set(readings.map(({ valueC }) => valueC))].toSorted((a, b) => a - b);
  const steps = values.slice(1).map((valueC, index) => valueC - values[index]!);
  const finestC = steps.reduce((least, each) => Math.min(least, each), Infinity);
  return finestC <= COARSEST_STEP_C ? finestC : 0;
}

/** How fast the readings moved at the end, °C/min. */
function lastPace(readings: readonly PlungeReading[]): number {
  const latest = lately(readings, SETTLED_S) ?? readings;
  return levelOf(latest).paceCPerS * 60;
}

function usualSpacingMs(readings: readonly PlungeReading[]): number {
  const spacings = readings.slice(1).map(({ atMs }, index) => atMs - readings[index]!.atMs);
  return spacings.toSorted((a, b) => a - b)[spacings.length >> 1]!;
}

function mean(values: readonly number[]): number {
  return sum(values) / values.length;
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}

function within(value: number, low: number, high: number): number {
  return Math.max(low, Math.min(high, value));
}
