/**
 * What a thermometer's lines mean, found out over a while and then kept to: the one way in from a line to temperatures. Pure, its state
 * is plain data, and it knows no device.
 *
 * Until a format is locked, only a line that means one thing by itself is read: see `provisional.ts`. Any other line is held: whoever
 * keeps the lines reads them again once the format is known.
 */
import { bareNumber } from './bare-number.ts';
import type { Role } from '../record/command.ts';
import type { RejectReason } from '../record/event.ts';
import { FIRST_LEFT } from '../record/run.ts';
import { type Format, MOST_KINDS } from '../record/format.ts';
import { type LineReading, refused, whyNoTemperature } from './channel.ts';
import { type Entry, readingBy } from './entry.ts';
import { type Fit, fitOf, labelled } from './fit.ts';
import { headingsOf } from './headings.ts';
import { bareReading } from './line.ts';
import { apartOf, BARE_SHAPE, judged } from './lock.ts';
import { meanwhile } from './provisional.ts';
import { readAlike, remember } from './template.ts';
import { grown, type HeardLine } from './heard.ts';

export interface Recognition {
  /** null: not sure yet. */
  readonly format: Format | null;
  /** While nothing is locked the lines so far, oldest first; afterwards those that could be read and did not fit. */
  readonly heard: readonly HeardLine[];
  /** Lines in a row that could be read and did not fit; and with them those that could not be read. */
  readonly misfits: number;
  readonly strange: number;
  /** Moment of the first of these; null: there is none. */
  readonly strangeSinceMs: number | null;
  /** A label on a line of its own, whose value is to come on the next. */
  readonly pending: string | null;
  /** One number with a decimal comma, or two numbers: a person has to say. */
  readonly asksComma: boolean;
}

/** What a person said. */
export interface SaidOfLines {
  readonly decimalComma: boolean | null;
  readonly roles: Readonly<Record<string, Role>>;
}

export interface Recognised {
  readonly recognition: Recognition;
  readonly reading: LineReading;
}

/** So many lines in a row that do not fit, and the format is given up (contract). */
export const MISFITS_MOST = 10;
/** Lines that cannot be read count only once none has fitted for so long, ms (ours: a device may well print a page of them). */
const STRANGE_MS = 10_000;

/** `format`: what a run begins with; absent or null: not known. */
export function recognitionOf(format: Format | null | undefined): Recognition {
  return {
    format: format ?? null,
    heard: [],
    misfits: 0,
    strange: 0,
    strangeSinceMs: null,
    pending: null,
    asksComma: false,
  };
}

/** `text`: a line without its terminator, one character per byte. Never throws; leaves `before` untouched. */
export function recognise(before: Recognition, text: string, atMs: number, said: SaidOfLines): Recognised {
  const { format, pending } = before;
  const isOfNumbers = format !== null && isBare(format);
  const valueC = isOfNumbers ? bareNumber(text) : null;
  if (valueC !== null) return { recognition: fitting(before), reading: bareReading(valueC) };
  const isLocked = format !== null && !isContradicted(format, said);
  const alike = isLocked && pending === null ? readAlike(format, said.roles, text) : null;
  if (alike !== null) return { recognition: fitting(before), reading: alike };
  if (!isOfNumbers && LABEL_ALONE.test(text)) {
    return { recognition: { ...before, pending: text.trim() }, reading: refused(whyNoTemperature(text)) };
  }
  const line = { atMs, text: pending !== null && VALUE_ALONE.test(text) ? `${pending} ${text.trim()}` : text };
  const ready = pending === null ? before : { ...before, pending: null };
  return isLocked ? whileLocked(ready, format, line, said) : whileOpen(ready, line, said);
}

/** `Temperature:` with nothing behind it, and on the next line a value with nothing before it. */
const LABEL_ALONE = /^\s*[A-Za-z][A-Za-z0-9_ .()/°-]{0,40}[:=]\s*$/;
const VALUE_ALONE = /^\s*[+-]?\d/;

function isBare({ kinds }: Format): boolean {
  return kinds[0]!.shape === BARE_SHAPE && kinds[0]!.columns[0]!.label === '';
}

/** Somebody has said meanwhile that commas are otherwise. */
function isContradicted(format: Format, { decimalComma }: SaidOfLines): boolean {
  return decimalComma !== null && format.decimalComma !== null && format.decimalComma !== decimalComma;
}

function fitting(before: Recognition): Recognition {
  return before.strange === 0 ? before : { ...before, misfits: 0, strange: 0, strangeSinceMs: null };
}

function whileOpen(before: Recognition, line: HeardLine, said: SaidOfLines): Recognised {
  const heard = grown(before.heard, line);
  const found = judged(heard, said.decimalComma);
  if (found.format === null) {
    const recognition = { ...recognitionOf(null), heard, asksComma: found.asksComma };
    return { recognition, reading: meanwhile(heard, found, said) };
  }
  const format = found.format;
  const recognition = { ...recognitionOf(format), heard: heard.filter((each) => isMisfit(format, each)) };
  return { recognition, reading: readLocked(format, line, said) ?? meanwhile(heard, found, said) };
}

function whileLocked(before: Recognition, format: Format, line: HeardLine, said: SaidOfLines): Recognised {
  const apart = apartOf(line, format.decimalComma);
  if (!apart.ok) {
    const isBegun = hasUnnamed(format) && headingsOf(line.text) !== null;
    const recognition = isBegun ? { ...recognitionOf(null), heard: [line] } : afterStrange(before, line.atMs);
    return { recognition, reading: refused(apart.reason) };
  }
  const fit = fitOf(format, apart.entries);
  if (fit !== null) {
    const fitted = fitting(before);
    const reading = readBy(fit, apart.entries, format, said, line.text);
    if (fit.isNew) return { recognition: learning(fitted, format, line, said), reading };
    remember(format, said.roles, line.text, reading, (text) => readLocked(format, { ...line, text }, said));
    return { recognition: fitted, reading };
  }
  if (!couldBeRead(apart.entries)) return { recognition: before, reading: refused(whyNoTemperature(line.text)) };
  const strange = afterStrange(before, line.atMs);
  if (strange.format === null) return whileOpen(strange, line, said);
  const misfits = before.misfits + 1;
  const taught = learning({ ...strange, misfits }, format, line, said);
  if (taught.format === format && misfits >= MISFITS_MOST)
    return whileOpen({ ...recognitionOf(null), heard: before.heard }, line, said);
  return { recognition: taught, reading: readLocked(taught.format!, line, said) ?? refused('unsure') };
}

/** One more in a row that is strange; too many for too long, and the format is open again. */
function afterStrange(before: Recognition, atMs: number): Recognition {
  const strange = before.strange + 1;
  const strangeSinceMs = before.strangeSinceMs ?? atMs;
  if (strange >= MISFITS_MOST && atMs - strangeSinceMs >= STRANGE_MS)
    return { ...recognitionOf(null), heard: before.heard };
  return { ...before, strange, strangeSinceMs };
}

/** A kind of line beside those known, whose values say what they are, is learnt once it has come often enough. */
function learning(before: Recognition, format: Format, line: HeardLine, said: SaidOfLines): Recognition {
  const heard = grown(before.heard, line);
  const kinds = judged(heard, said.decimalComma ?? format.decimalComma, 'said').format?.kinds ?? [];
  const known = new Set(format.kinds.map(({ shape }) => shape));
  const learnt = kinds.filter(({ shape, columns }) => !known.has(shape) && columns.every(({ label }) => label !== ''));
  if (learnt.length === 0) return { ...before, heard };
  return {
    ...before,
    misfits: 0,
    format: { ...format, kinds: [...format.kinds, ...learnt].slice(0, MOST_KINDS) },
    heard: [],
  };
}

function isMisfit(format: Format, line: HeardLine): boolean {
  const apart = apartOf(line, format.decimalComma);
  return apart.ok && fitOf(format, apart.entries) === null && couldBeRead(apart.entries);
}

function couldBeRead(entries: readonly Entry[]): boolean {
  return entries.some(({ value, other }) => value !== null && !other);
}

function hasUnnamed(format: Format): boolean {
  return format.kinds.some(({ columns }) => columns.length > 1 && columns.every(({ label }) => label === ''));
}

function readLocked(format: Format, line: HeardLine, said: SaidOfLines): LineReading | null {
  const apart = apartOf(line, format.decimalComma);
  if (!apart.ok) return refused(apart.reason);
  const fit = fitOf(format, apart.entries);
  return fit === null ? null : readBy(fit, apart.entries, format, said, line.text);
}

/** Whichever value it is, somebody has said that it is not the chocolate. */
function isElsewhere({ roles }: SaidOfLines): boolean {
  return (roles[FIRST_LEFT] ?? 'chocolate') !== 'chocolate';
}

function readBy(fit: Fit, entries: readonly Entry[], format: Format, said: SaidOfLines, text: string): LineReading {
  const whats = fit.columns.map(({ what }) => what);
  const scales = fit.columns.map(({ scale }) => scale);
  const reading = readingBy(labelled(entries, fit), whats, scales, said.roles);
  if (reading === null) return refused(whyNoTemperature(text) satisfies RejectReason);
  if (!reading.ok) return reading;
  const isSaid = isElsewhere(said) || reading.places.some((key) => Object.hasOwn(said.roles, key));
  if (format.asks && !isSaid) return refused('ambiguous');
  return format.kinds.length === 1 ? reading : { ...reading, places: placesOf(format, reading.places) };
}

/** Those of all kinds of lines: a second probe on a line of its own does not stand in for the first. */
function placesOf({ kinds }: Format, places: readonly string[]): readonly string[] {
  const labels = kinds.flatMap(({ columns }) =>
    columns.flatMap(({ label, what }) => (label !== '' && what === 'temperature' ? [label] : [])),
  );
  return [...new Set([...labels, ...places])];
}
