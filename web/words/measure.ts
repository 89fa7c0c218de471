/** How figures are said: temperatures, spans of time, forecasts, clock times. English; knows nothing of runs. */

/** One decimal, always: 31.6. */
export function degrees(valueC: number): string {
  const rounded = Math.round(valueC * 10) / 10;
  return (rounded === 0 ? 0 : rounded).toFixed(1);
}

/** A bound as a person writes it: 27, 32.5, 27.25. */
export function bound(valueC: number): string {
  return String(Math.round(valueC * 100) / 100);
}

/** A bound as the goal of a phase, the one place in a sentence where the unit stands. */
export function goal(valueC: number): string {
  return `${bound(valueC)} °C`;
}

/** Seconds are said below this, minutes from there on. */
const SECONDS_UP_TO_S = 120;
const S_PER_MIN = 60;
const MIN_PER_H = 60;

/** 45 s · 24 min · 1 h 43 min. Negative is nothing. */
export function span(seconds: number): string {
  const s = Math.max(0, Math.round(seconds));
  if (s < SECONDS_UP_TO_S) return `${s} s`;
  const min = Math.round(s / S_PER_MIN);
  if (min < MIN_PER_H) return `${min} min`;
  const rest = min % MIN_PER_H;
  return rest === 0 ? `${Math.floor(min / MIN_PER_H)} h` : `${Math.floor(min / MIN_PER_H)} h ${rest} min`;
}

/** Forecast seconds come in steps of this: more would claim what nobody knows (ours). */
const GUESS_STEP_S = 5;

/** A span that is a guess: 45 s · 90 s · 24 min, never 89 s. */
export function guess(seconds: number): string {
  return span(seconds < SECONDS_UP_TO_S ? Math.round(seconds / GUESS_STEP_S) * GUESS_STEP_S : seconds);
}

/** How long something lasted, to the second while that still means something: 45 s · 3 min 35 s · 24 min. */
export function lasted(seconds: number): string {
  const s = Math.max(0, Math.round(seconds));
  const min = Math.floor(s / S_PER_MIN);
  if (s < S_PER_MIN || min >= 10) return span(s);
  return s % S_PER_MIN === 0 ? `${min} min` : `${min} min ${s % S_PER_MIN} s`;
}

/** Longer forecasts are not worth a figure (ours). */
const FORECAST_MAX_S = 90 * S_PER_MIN;

/**
 * "in about 4 min" where the range is under half of it either way, else "in 3 to 6 min"; "in 9 min or more" with no upper end;
 * null where nothing is known or it is too far off to say.
 */
export function arrival(etaS: number | null, lowS: number | null, highS: number | null): string | null {
  if (etaS === null || etaS > FORECAST_MAX_S) return null;
  if (lowS === null) return `in about ${guess(etaS)}`;
  if (highS === null) return `in ${guess(lowS)} or more`;
  const isTight = etaS - lowS < etaS / 2 && highS - etaS < etaS / 2;
  if (isTight || guess(lowS) === guess(highS)) return `in about ${guess(etaS)}`;
  return `in ${range(lowS, highS)}`;
}

/** 3 to 6 min · 40 to 90 s: the unit once where both share it. */
function range(lowS: number, highS: number): string {
  const [low, high] = [guess(lowS), guess(highS)];
  const unit = high.slice(high.lastIndexOf(' '));
  const isShared = low.split(' ').length === 2 && high.split(' ').length === 2 && low.endsWith(unit);
  return `${isShared ? low.slice(0, -unit.length) : low} to ${high}`;
}

/** Clock time of a moment on the feed's clock, 14:51; the wall clock is a label and may be missing. */
export function clock(startedAtWall: string, startedAtMs: number, atMs: number): string {
  const wallMs = Date.parse(startedAtWall) + (atMs - startedAtMs);
  if (Number.isNaN(wallMs)) return '';
  const at = new Date(wallMs);
  return `${String(at.getHours()).padStart(2, '0')}:${String(at.getMinutes()).padStart(2, '0')}`;
}

const DAYS = ['Sun', 'Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat'];
const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];

/** Thu 24 Nov, in the viewer's time; empty where there is no date. */
export function day(wall: string): string {
  const at = new Date(wall);
  if (Number.isNaN(at.getTime())) return '';
  return `${DAYS[at.getDay()]} ${at.getDate()} ${MONTHS[at.getMonth()]}`;
}

/** Elapsed time since the run's start: 0:22, 1:43. */
export function elapsed(ms: number): string {
  const min = Math.floor(Math.max(0, ms) / 60_000);
  return `${Math.floor(min / MIN_PER_H)}:${String(min % MIN_PER_H).padStart(2, '0')}`;
}

/** Rates below this a minute count as standing still, °C/min (ours, with the page's trend words). */
export const STEADY_C_PER_MIN = 0.05;
/** Rates below this a minute creep, °C/min (ours). */
const CREEPING_C_PER_MIN = 0.25;

export type Arrow = 'up' | 'down' | 'level';

export interface Trend {
  readonly arrow: Arrow;
  readonly words: string;
}

/** steady · creeping up · rising 1.0 a minute. */
export function trend(rateCPerMin: number): Trend {
  const size = Math.abs(rateCPerMin);
  if (size < STEADY_C_PER_MIN) return { arrow: 'level', words: 'steady' };
  const isUp = rateCPerMin > 0;
  const arrow = isUp ? 'up' : 'down';
  if (size < CREEPING_C_PER_MIN) return { arrow, words: isUp ? 'creeping up' : 'creeping down' };
  return { arrow, words: `${isUp ? 'rising' : 'falling'} ${degrees(size)} a minute` };
}
