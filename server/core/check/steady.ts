/**
 * Whether a probe has come to rest in what it is held against: the readings of a minute, their spread and their slope. Knows neither
 * what it is held against nor what it should read.
 */
import { type PlungeReading, stepOf } from '../bowl/plunge.ts';
import { STEADY_READINGS, STEADY_S } from '../show/checkable.ts';

/** A hole longer than this begins the minute anew, s. Ours. */
export const STEADY_GAP_S = 15;
/** Slope no steeper than this, °C/min. Ours: with a lag of 20 s it is then 0.03 °C behind at most. */
export const STEADY_C_PER_MIN = 0.1;
/** Spread no wider than this, one standard deviation, °C. Ours: good stirring does better. */
export const STEADY_SPREAD_C = 0.1;
/** A thermometer of coarser steps may jump by one of them: so much slope makes one jump in mid-minute, in steps a minute (exact: 3/2). */
const JUMP_SLOPE = 1.5;
/** The step of a thermometer that was never seen to move, °C. Ours: what most displays have. */
const USUAL_STEP_C = 0.1;

/** What is being watched. Plain data; `watchSteady` works in place. */
export interface Watch {
  /** Of the last minute, and longer where it has too few, oldest first; values not corrected, °C. */
  readings: PlungeReading[];
  /** The finest step seen since the watch began, °C; 0: none. */
  finestC: number;
}

export interface Steadiness {
  /** `waiting`: too little was read yet, or too far apart. */
  readonly state: 'waiting' | 'moving' | 'restless' | 'steady';
  /** How much of the minute there is, s. */
  readonly forS: number;
  readonly readings: number;
  /** null: nothing was read. */
  readonly meanC: number | null;
  readonly spreadC: number;
  readonly slopeCPerMin: number;
  readonly stepC: number;
}

export function startWatch(): Watch {
  return { readings: [], finestC: 0 };
}

export function watchSteady(watch: Watch, reading: PlungeReading): void {
  const last = watch.readings.at(-1);
  const isHole = last !== undefined && reading.atMs - last.atMs > STEADY_GAP_S * 1000;
  watch.readings = [...(isHole ? [] : watch.readings), reading];
  // One reading older than the minute is kept: it says that the minute is whole. A thermometer that speaks seldom is watched for longer.
  const first = watch.readings.findLastIndex(({ atMs }) => reading.atMs - atMs >= STEADY_S * 1000);
  watch.readings.splice(0, Math.max(0, Math.min(first, watch.readings.length - STEADY_READINGS)));
  const stepC = stepOf(watch.readings);
  if (stepC > 0) watch.finestC = watch.finestC === 0 ? stepC : Math.min(stepC, watch.finestC);
}

export function steadiness({ readings, finestC }: Watch): Steadiness {
  const stepC = finestC === 0 ? USUAL_STEP_C : finestC;
  const forS = readings.length === 0 ? 0 : Math.min(STEADY_S, (readings.at(-1)!.atMs - readings[0]!.atMs) / 1000);
  const { meanC, spreadC, slopeCPerMin } = lineThrough(readings);
  const figures = { forS, readings: readings.length, meanC, spreadC, slopeCPerMin, stepC };
  if (forS < STEADY_S || readings.length < STEADY_READINGS) return { state: 'waiting', ...figures };
  if (Math.abs(slopeCPerMin) > Math.max(STEADY_C_PER_MIN, JUMP_SLOPE * stepC)) return { state: 'moving', ...figures };
  if (spreadC > Math.max(STEADY_SPREAD_C, stepC)) return { state: 'restless', ...figures };
  return { state: 'steady', ...figures };
}

/** Mean and standard deviation, and the slope of the straight line of least squares. */
function lineThrough(readings: readonly PlungeReading[]): Pick<Steadiness, 'meanC' | 'spreadC' | 'slopeCPerMin'> {
  const count = readings.length;
  if (count === 0) return { meanC: null, spreadC: 0, slopeCPerMin: 0 };
  const mean = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / count;
  const meanC = mean(readings.map(({ valueC }) => valueC));
  const midMs = mean(readings.map(({ atMs }) => atMs));
  const ofTime = mean(readings.map(({ atMs }) => (atMs - midMs) ** 2));
  const ofBoth = mean(readings.map(({ atMs, valueC }) => (atMs - midMs) * (valueC - meanC)));
  const ofValues = mean(readings.map(({ valueC }) => (valueC - meanC) ** 2));
  const spreadC = count < 2 ? 0 : Math.sqrt((ofValues * count) / (count - 1));
  return { meanC, spreadC, slopeCPerMin: ofTime === 0 ? 0 : (ofBoth / ofTime) * 60_000 };
}
