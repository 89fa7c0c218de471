/** How figures, moments and names stand in what is handed over: in the reader's unit and with the reader's decimal mark. */

export interface Manner {
  readonly decimal: 'point' | 'comma';
  readonly unit: 'c' | 'f';
}

export const PLAIN: Manner = { decimal: 'point', unit: 'c' };

export function unitSign({ unit }: Manner): string {
  return unit === 'f' ? '°F' : '°C';
}

/** A temperature in the reader's unit, °C in. */
export function inUnit(valueC: number, { unit }: Manner): number {
  return unit === 'f' ? valueC * 1.8 + 32 : valueC;
}

/** A figure with at most so many decimals, none of them a zero at the end; with a hyphen for a minus, as calculating programs read it. */
export function figure(value: number, decimals: number, { decimal }: Manner): string {
  const factor = 10 ** decimals;
  const text = String(Math.round(value * factor) / factor + 0);
  return decimal === 'comma' ? text.replace('.', ',') : text;
}

/** 31.6: a measured temperature, always with one decimal. */
export function degrees(valueC: number, manner: Manner): string {
  return withOneDecimal(inUnit(valueC, manner), manner);
}

/** As people read it: −5.0 with the sign of a minus. */
function withOneDecimal(value: number, { decimal }: Manner): string {
  const text = minus((Math.round(value * 10) / 10 + 0).toFixed(1));
  return decimal === 'comma' ? text.replace('.', ',') : text;
}

/** A figure with the sign of a minus rather than a hyphen. */
export function minus(text: string): string {
  return text.replace('-', '−');
}

/** A bound as a person writes it: 27, 32.5, 27.25; in °F, where it was reckoned, to a tenth. */
export function bound(valueC: number, manner: Manner): string {
  return minus(figure(inUnit(valueC, manner), manner.unit === 'f' ? 1 : 2, manner));
}

/** A difference, always with one decimal: 0.3. */
export function apart(differenceC: number, manner: Manner): string {
  return withOneDecimal(differenceC * (manner.unit === 'f' ? 1.8 : 1), manner);
}

/** By how much something is shifted: +0.3 °C. */
export function shift(differenceC: number, manner: Manner): string {
  const text = apart(differenceC, manner);
  return `${text.startsWith('−') ? '' : '+'}${text} ${unitSign(manner)}`;
}

/** The id of a phase or a channel as a name: `first-melt` is First melt. */
export function asName(id: string): string {
  const words = id.replaceAll(/[-_]+/g, ' ').trim();
  return words === '' ? id : capital(words);
}

export function capital(text: string): string {
  return text === '' ? text : text[0]!.toUpperCase() + text.slice(1);
}

const S_PER_MIN = 60;
const MIN_PER_H = 60;

/** 45 s · 3 min 35 s · 24 min · 1 h 43 min. Negative is nothing. */
export function span(ms: number): string {
  const s = Math.max(0, Math.round(ms / 1000));
  const min = Math.floor(s / S_PER_MIN);
  if (min === 0) return `${s} s`;
  if (min < 10 && s % S_PER_MIN !== 0) return `${min} min ${s % S_PER_MIN} s`;
  const whole = Math.round(s / S_PER_MIN);
  if (whole < MIN_PER_H) return `${whole} min`;
  return whole % MIN_PER_H === 0
    ? `${whole / MIN_PER_H} h`
    : `${Math.floor(whole / MIN_PER_H)} h ${whole % MIN_PER_H} min`;
}

/** Time into the run: 0:22, 1:43. */
export function into(ms: number): string {
  const min = Math.floor(Math.max(0, ms) / 60_000);
  return `${Math.floor(min / MIN_PER_H)}:${two(min % MIN_PER_H)}`;
}

/** A moment of the wall clock where the server stands, which is where the bowl is: 14:02. */
export function clock(wallMs: number): string {
  const at = new Date(wallMs);
  return Number.isNaN(at.getTime()) ? '' : `${two(at.getHours())}:${two(at.getMinutes())}`;
}

/** The same for a calculating program, to the second: 2026-11-24 14:02:05. */
export function stamp(wallMs: number): string {
  const at = new Date(wallMs);
  if (Number.isNaN(at.getTime())) return '';
  return `${at.getFullYear()}-${two(at.getMonth() + 1)}-${two(at.getDate())} ${clock(wallMs)}:${two(at.getSeconds())}`;
}

const DAYS = ['Sunday', 'Monday', 'Tuesday', 'Wednesday', 'Thursday', 'Friday', 'Saturday'];
const MONTHS = [
  'January',
  'February',
  'March',
  'April',
  'May',
  'June',
  'July',
  'August',
  'September',
  'October',
  'November',
  'December',
];

/** Tuesday 24 November 2026. */
export function day(wallMs: number): string {
  const at = new Date(wallMs);
  if (Number.isNaN(at.getTime())) return '';
  return `${DAYS[at.getDay()]} ${at.getDate()} ${MONTHS[at.getMonth()]} ${at.getFullYear()}`;
}

function two(number: number): string {
  return String(number).padStart(2, '0');
}
