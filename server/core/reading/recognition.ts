/**
 * What a thermometer's lines mean, found out over a while and then kept to: the one way in from a line to temperatures. Pure, its state
 * is plain data, and it knows no device.
 *
 * Until a format is locked, only a line that means one thing by itself is read: see `provisional.ts`. Any other line is held: whoever
 * keeps the lines reads them again once the format is known.
 */
import { bareNumber } from './bare-number.ts';
import type { Role } from '../record/command.ts';
import { type Format, MOST_KINDS } from '../record/format.ts';
import { type LineReading, refused, whyNoTemperature } from './channel.ts';
import type { Entry } from './entry.ts';
import { counted, figuresOf, isOdd, isUsual, keyOf, proved, type Shown, withShown, type Written } from './figures.ts';
import { fitOf } from './fit.ts';
import { headingsOf } from './headings.ts';
import { bareReading } from './line.ts';
import { apartOf, BARE_SHAPE, judged } from './lock.ts';
import { readBy, readLocked } from './locked.ts';
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
  /** What the lines of the locked format have shown of how its values are written, by `keyOf`. */
  readonly shown: Readonly<Record<string, Shown>>;
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
    shown: {},
  };
}

/** `text`: a line without its terminator, one character per byte. Never throws; leaves `before` untouched. */
export function recognise(before: Recognition, text: string, atMs: number, said: SaidOfLines): Recognised {
  const { format, pending } = before;
  const isOfNumbers = format !== null && isBare(format);
  const valueC = isOfNumbers ? bareNumber(text) : null;
  const bare = valueC === null ? null : readBare(before, format!, text, valueC);
  if (bare !== null) return bare;
  const isLocked = format !== null && !isContradicted(format, said);
  const alike = isLocked && pending === null ? readAlike(format, said.roles, text, before.shown) : null;
  if (alike !== null) return { recognition: withShown(fitting(before), alike.written), reading: alike.reading };
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

/** null: it is not written as the others are. */
function readBare(before: Recognition, { kinds }: Format, text: string, value: number): Recognised | null {
  const column = kinds[0]!.columns[0]!;
  const reading = bareReading(value);
  const isTrimmed = text.charCodeAt(text.length - 1) !== BLANK;
  if (isTrimmed && isUsual(column, before.shown[BARE_KEY], text)) return { recognition: fitting(before), reading };
  const written = { column, key: BARE_KEY, figures: figuresOf(text)!, value };
  return isOdd(written) ? null : { recognition: withShown(fitting(before), [written]), reading };
}

const BARE_KEY = keyOf(0, 0);
const BLANK = 0x20;

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
  const { format, shown } = asHeard(found.format, heard, said);
  const misfits = heard.filter((each) => isMisfit(format, each));
  const reading = readLocked(format, line, said.roles)?.reading ?? meanwhile(heard, found, said);
  return { recognition: { ...recognitionOf(format), heard: misfits, shown }, reading };
}

/** How values are written may show in the very lines by which the format was found. */
function asHeard(format: Format, heard: readonly HeardLine[], { roles }: SaidOfLines) {
  let shown: Recognition['shown'] = {};
  for (const line of heard) shown = counted(shown, known(readLocked(format, line, roles)?.written ?? []));
  return { format: proved(format, shown), shown };
}

function known(written: readonly (Written | null)[]): readonly Written[] {
  return written.filter((each) => each !== null);
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
    const read = readBy(fit, apart.entries, format, said.roles, line.text);
    const { reading } = read;
    if (fit.isNew) return { recognition: learning(fitted, format, line, said), reading };
    remember(format, said.roles, line.text, read, (text) => readLocked(format, { ...line, text }, said.roles));
    return { recognition: withShown(fitted, known(read.written)), reading };
  }
  if (!couldBeRead(apart.entries)) return { recognition: before, reading: refused(whyNoTemperature(line.text)) };
  const strange = afterStrange(before, line.atMs);
  if (strange.format === null) return whileOpen(strange, line, said);
  const misfits = before.misfits + 1;
  const taught = learning({ ...strange, misfits }, format, line, said);
  if (taught.format === format && misfits >= MISFITS_MOST) return whileOpen(reopened(before), line, said);
  return { recognition: taught, reading: readLocked(taught.format!, line, said.roles)?.reading ?? refused('unsure') };
}

/** One more in a row that is strange; too many for too long, and the format is open again. */
function afterStrange(before: Recognition, atMs: number): Recognition {
  const strange = before.strange + 1;
  const strangeSinceMs = before.strangeSinceMs ?? atMs;
  if (strange >= MISFITS_MOST && atMs - strangeSinceMs >= STRANGE_MS) return reopened(before);
  return { ...before, strange, strangeSinceMs };
}

/** The format is given up for the newest lines: what was heard before them would only keep them from being understood. */
function reopened({ heard }: Recognition): Recognition {
  return { ...recognitionOf(null), heard: heard.slice(-MISFITS_MOST) };
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
