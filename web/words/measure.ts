/**
 * How figures are said: temperatures, spans of time, forecasts, clock times. Knows nothing of runs. Temperatures come in °C and
 * are said in the viewer's unit, with the viewer's decimal mark.
 */
import { arrivalForm, STEADY_C_PER_MIN } from '../way-form.ts';
import { inLanguage } from './language.ts';
import { inUnit, isFahrenheit, marked, stepInUnit, unitSign } from './manner.ts';

/** One decimal, always: 31.6. */
export function degrees(valueC: number): string {
  return marked(shown(valueC).toFixed(1));
}

/** The figure that `degrees` says, as a number. */
export function shown(valueC: number): number {
  return tenth(inUnit(valueC));
}

/** A difference, or a rate a minute, with one decimal: 0.9. */
export function apart(differenceC: number): string {
  return marked(tenth(stepInUnit(differenceC)).toFixed(1));
}

/** A bound as a person writes it: 27, 32.5, 27.25; in °F, where it was reckoned, to a tenth. */
export function bound(valueC: number): string {
  const fine = isFahrenheit() ? 10 : 100;
  return marked(String(Math.round(inUnit(valueC) * fine) / fine));
}

/** A bound as the goal of a phase, the one place in a sentence where the unit stands. */
export function goal(valueC: number): string {
  return `${bound(valueC)} ${unitSign()}`;
}

/** A value with its unit: 31.6 °C. */
export function measured(valueC: number): string {
  return `${degrees(valueC)} ${unitSign()}`;
}

/** A difference of less than this is shown as nothing, °C. */
export const SHOWN_C = 0.05;

function tenth(value: number): number {
  const rounded = Math.round(value * 10) / 10;
  return rounded === 0 ? 0 : rounded;
}

/** Seconds are said below this, minutes from there on. */
const SECONDS_UP_TO_S = 120;
export const S_PER_MIN = 60;
export const MIN_PER_H = 60;

/** Spans of time in one unit, and in two. */
export const SPAN = inLanguage({
  en: {
    s: (seconds: number) => `${seconds} s`,
    min: (minutes: number) => `${minutes} min`,
    h: (hours: number) => `${hours} h`,
    units: / min| h| s/,
    /** The greater and what is over, which may be nothing. */
    both: (greater: string, rest: string) => `${greater} ${rest}`.trimEnd(),
  },
});

/** 45 s · 24 min · 1 h 43 min. Negative is nothing. */
export function span(seconds: number): string {
  const s = Math.max(0, Math.round(seconds));
  if (s < SECONDS_UP_TO_S) return SPAN.s(s);
  const min = Math.round(s / S_PER_MIN);
  if (min < MIN_PER_H) return SPAN.min(min);
  const rest = min % MIN_PER_H;
  return SPAN.both(SPAN.h(Math.floor(min / MIN_PER_H)), rest === 0 ? '' : SPAN.min(rest));
}

/** To the second, for what is waited for: 3:20 · 0:05. Negative is nothing. */
export function countdown(seconds: number): string {
  const s = Math.max(0, Math.ceil(seconds));
  return `${Math.floor(s / S_PER_MIN)}:${String(s % S_PER_MIN).padStart(2, '0')}`;
}

/** Forecast seconds come in steps of this, and from the third part of an hour on minutes in steps of that (ours: nobody knows better). */
const GUESS_STEP_S = 5;
const LONG_GUESS_S = 20 * S_PER_MIN;
const LONG_GUESS_STEP_S = 5 * S_PER_MIN;

/** A span that is a guess: 45 s · 90 s · 17 min · 25 min, never 89 s or 24 min, and never nothing. */
export function guess(seconds: number): string {
  const step = seconds < SECONDS_UP_TO_S ? GUESS_STEP_S : seconds < LONG_GUESS_S ? 1 : LONG_GUESS_STEP_S;
  return span(Math.max(1, Math.round(seconds / step)) * step);
}

/** When that is, as far as can be guessed: in about 45 s · any moment. */
export function inAbout(seconds: number): string {
  return seconds < GUESS_STEP_S / 2 ? WHEN.anyMoment : WHEN.about(guess(seconds));
}

/**
 * "in about 4 min" where the range is narrow; "in about 4 min, 3 to 6" where it is not; "in 3 to 10 min" where no figure in it
 * deserves to stand out; "in 9 min or more" with no upper end; null where nothing is known, too little, or it is too far off to say.
 */
export function arrival(etaS: number | null, lowS: number | null, highS: number | null): string | null {
  const form = arrivalForm(etaS, lowS, highS);
  if (form === null || form === 'unsure') return null;
  const about = guess(etaS!);
  if (form === 'about' || lowS === null) return WHEN.about(about);
  if (form === 'within' && lowS < GUESS_STEP_S / 2) return WHEN.upTo(guess(highS ?? etaS!));
  if (form === 'or-more' || highS === null) return WHEN.orMore(guess(lowS));
  if (guess(lowS) === guess(highS)) return WHEN.about(about);
  return form === 'within'
    ? WHEN.within(range(lowS, highS))
    : WHEN.aboutAnd(about, withoutUnit(range(lowS, highS), about));
}

const WHEN = inLanguage({
  en: {
    anyMoment: 'any moment',
    about: (span: string) => `in about ${span}`,
    aboutAnd: (span: string, range: string) => `in about ${span}, ${range}`,
    orMore: (span: string) => `in ${span} or more`,
    within: (range: string) => `in ${range}`,
    upTo: (span: string) => `within ${span}`,
    range: (low: string, high: string) => `${low} to ${high}`,
  },
});

/** A range that ends this far off is one of minutes, from its first minute on, s (ours). */
const MINUTES_FROM_S = 150;

/** 3 to 6 min · 40 to 90 s · 2 to 4 min, never 115 s to 4 min: the unit once where both share it. */
function range(lowS: number, highS: number): string {
  const high = guess(highS);
  const isMixed = lowS >= S_PER_MIN && lowS < SECONDS_UP_TO_S && highS >= MINUTES_FROM_S;
  const low = isMixed ? SPAN.min(Math.round(lowS / S_PER_MIN)) : guess(lowS);
  const isShared = high.split(' ').length === 2;
  return WHEN.range(isShared ? withoutUnit(low, high) : low, high);
}

/** A span without the unit that another one beside it ends in; with it where it has more than one, or not the same. */
function withoutUnit(words: string, other: string): string {
  const unit = other.slice(other.lastIndexOf(' '));
  const isAlone = words.split(SPAN.units).length === 2;
  return isAlone && words.endsWith(unit) ? words.slice(0, -unit.length) : words;
}

/** Clock time of a moment on the feed's clock, 14:51; the wall clock is a label and may be missing. */
export function clock(startedAtWall: string, startedAtMs: number, atMs: number): string {
  const wallMs = Date.parse(startedAtWall) + (atMs - startedAtMs);
  if (Number.isNaN(wallMs)) return '';
  const at = new Date(wallMs);
  return `${String(at.getHours()).padStart(2, '0')}:${String(at.getMinutes()).padStart(2, '0')}`;
}

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
  if (size < STEADY_C_PER_MIN) return { arrow: 'level', words: GOING.level };
  const arrow = rateCPerMin > 0 ? 'up' : 'down';
  if (size < CREEPING_C_PER_MIN) return { arrow, words: GOING.creeping[arrow] };
  return { arrow, words: GOING.moving[arrow](apart(size)) };
}

const GOING = inLanguage({
  en: {
    level: 'steady',
    creeping: { up: 'creeping up', down: 'creeping down' },
    moving: { up: (by: string) => `rising ${by} a minute`, down: (by: string) => `falling ${by} a minute` },
  },
});

const KEPT_TOGETHER = inLanguage({
  en: /(?<=\d) (?=(?:°[CF]|min|s|h|days?|kg|g|c?m|mV|k?Ω|[kMG]B|%)(?![\wΩ])|to \d)|(?<=\d(?: (?:min|s|h))? to) (?=\d)/g,
});

/** The same words, but a figure stays on one line with its unit, and a range with both its ends. */
export function unbroken(text: string): string {
  return text.replaceAll(KEPT_TOGETHER, '\u00a0');
}
