/**
 * A run as text, one JSON object a line: a header with all that `step` depends on, then what went in (trace), what came
 * out (log), or both, what people said of it, and a checksum (run). Reading and writing are exact inverses. Knows nothing of files or
 * of the engine.
 */
import type { NoteInfo } from '../show/wire.ts';
import { probeCheckShape } from './check.ts';
import { type CardEntry, cardEntryShape } from './card.ts';
import { crc32 } from './checksum.ts';
import { drained } from './drained.ts';
import type { RunEvent } from './event.ts';
import { encodeEvent, eventComplaint } from './event-file.ts';
import { formatShape } from './format.ts';
import type { RecordedInput } from './input.ts';
import { conditionShape, encodeInput, inputComplaint, roleShape } from './input-file.ts';
import { linesOf } from './lines.ts';
import { noteInfoShape } from './note-file.ts';
import { profileShape } from './profile-shape.ts';
import {
  COAST_LEAST_S,
  COAST_MOST_S,
  type Companion,
  type Corrected,
  type Correction,
  type Learned,
  LEARNED_LEAST_S,
  LEARNED_MOST_S,
  type RunHeader,
} from './run.ts';
import { sensorShape } from './sensor.ts';
import {
  type Complaint,
  complaintText,
  exactly,
  type Fields,
  finite,
  flag,
  object,
  oneOf,
  optional,
  orNull,
  record,
  shown,
  text,
  whole,
  wholeFrom,
  within,
} from './shape.ts';

/** Raised when an older Bowlside could no longer read what we write. */
export const FILE_FORMAT = 1;

/** Longest line read, characters (ours): a profile in full fits many times over. */
export const MAX_LINE_CHARS = 262_144;

/** Deepest nesting read (ours): a band inside a phase inside a chosen profile is 6 deep. */
export const MAX_DEPTH = 8;

/** `trace`: inputs; `log`: events; `run`: inputs, events, notes and entries of its card, checksum. */
export type What = 'trace' | 'log' | 'run';
const WHATS: readonly What[] = ['trace', 'log', 'run'];

/** Where the run came from. `step` does not depend on any of it. */
export interface RunLabels {
  readonly run?: string;
  readonly bowl?: string;
  readonly source?: string;
  readonly simulated?: boolean;
  /** Feed clock of the run's first input. */
  readonly startedAtMs?: number;
  /** ISO 8601. */
  readonly startedAtWall?: string;
}

export interface RunFile {
  readonly what: What;
  readonly header: RunHeader;
  readonly labels: RunLabels;
  /** Empty in a `log`. */
  readonly inputs: readonly RecordedInput[];
  /** Empty in a `trace`. */
  readonly events: readonly RunEvent[];
  /** In a `run` only, in the order they were written; absent: none. Neither inputs nor events depend on them. */
  readonly notes?: readonly NoteInfo[];
  readonly card?: readonly CardEntry[];
}

/** `line` counts from 1; 0 speaks of the file as a whole. */
export type Decoded<T> =
  { readonly ok: true; readonly value: T } | { readonly ok: false; readonly line: number; readonly reason: string };

type HeaderLine = { readonly bowlside: number; readonly what: What } & RunHeader & RunLabels;

const CORRECTION: Fields<Correction> = { offsetC: finite, gain: finite };

export const correctionShape = object(CORRECTION);

const CORRECTED: Fields<Corrected> = { correction: correctionShape, check: optional(orNull(probeCheckShape)) };
const correctedShape = object(CORRECTED);

/** What is known of any thermometer, the chocolate's or one beside it. */
export const companionFields: Fields<Companion> = {
  ...CORRECTED,
  corrections: optional(record(correctedShape)),
  roles: record(roleShape),
  sensors: optional(record(sensorShape)),
  decimalComma: orNull(flag),
};

const learnedS = orNull(within(LEARNED_LEAST_S, LEARNED_MOST_S));

const LEARNED: Fields<Learned> = {
  runs: wholeFrom(1),
  heatCourseS: learnedS,
  coldCourseS: learnedS,
  coastS: optional(orNull(within(COAST_LEAST_S, COAST_MOST_S))),
};

const RUN_HEADER: Fields<RunHeader> = {
  engine: wholeFrom(1),
  condition: orNull(conditionShape),
  probeLagS: orNull(finite),
  ...companionFields,
  format: optional(formatShape),
  learned: optional(object(LEARNED)),
  companions: optional(record(object(companionFields))),
  profile: profileShape,
};

export const runHeaderShape = object(RUN_HEADER);

const { engine, ...REST_OF_HEADER } = RUN_HEADER;

const HEADER: Fields<HeaderLine> = {
  bowlside: exactly(FILE_FORMAT),
  what: oneOf(WHATS),
  engine,
  run: optional(text),
  bowl: optional(text),
  source: optional(text),
  simulated: optional(flag),
  startedAtMs: optional(whole),
  startedAtWall: optional(text),
  ...REST_OF_HEADER,
};
const headerShape = object(HEADER);

const noteLineShape = object({ note: noteInfoShape });
const cardLineShape = object({ card: cardEntryShape });

const checksumShape = object({ checksum: text, inputs: wholeFrom(0), events: wholeFrom(0) });

/** A file to be written: its inputs may come one by one. */
export type RunToWrite = Omit<RunFile, 'inputs'> & { readonly inputs: Iterable<RecordedInput> };

/** The file's lines, each with its line feed, so that a long run can be sent piece by piece. */
export function* encodeLines(file: RunToWrite): Generator<string> {
  const inputs = { count: 0 };
  let crc = 0;
  for (const line of bodyLines(file, inputs)) {
    const whole = `${line}\n`;
    if (file.what === 'run') crc = crc32(whole, crc);
    yield whole;
  }
  if (file.what === 'run') yield `${checksumLine(crc, inputs.count, file.events.length)}\n`;
}

/** The whole file as text. */
export function encodeRunFile(file: RunFile): string {
  return [...encodeLines(file)].join('');
}

function* bodyLines(file: RunToWrite, inputs: { count: number }): Generator<string> {
  const line: HeaderLine = { bowlside: FILE_FORMAT, what: file.what, ...file.header, ...file.labels };
  yield headerShape.write(line);
  if (file.what !== 'log') {
    for (const input of file.inputs) {
      inputs.count += 1;
      yield encodeInput(input);
    }
  }
  if (file.what !== 'trace') for (const event of file.events) yield encodeEvent(event);
  if (file.what !== 'run') return;
  for (const note of file.notes ?? []) yield noteLineShape.write({ note });
  for (const card of file.card ?? []) yield cardLineShape.write({ card });
}

/** CRC-32 over the UTF-8 of all lines before it, each with one line feed. */
function checksumLine(crc: number, inputs: number, events: number): string {
  return checksumShape.write({ checksum: `crc32:${crc.toString(16).padStart(8, '0')}`, inputs, events });
}

/** The file, or the first line at fault and why. A byte-order mark and CRLF line ends are let pass. */
export function decodeRunFile(source: string): Decoded<RunFile> {
  return drained(readingRunFile(source));
}

/** The same in pieces, for whoever has other things to do meanwhile: stops after each line. */
export function* readingRunFile(source: string): Generator<void, Decoded<RunFile>> {
  const lines = linesOf(source);
  const first = lines.next();
  if (first.done) return fault(0, 'the file is empty');
  const head = decodeHeader(first.value);
  if (!head.ok) return head;
  const body = emptyBody(head.value.what, crc32(`${first.value}\n`));
  let number = 1;
  for (const line of lines) {
    number += 1;
    const reason = takeLine(body, line);
    if (reason !== null) return fault(number, reason);
    yield;
  }
  if (body.what === 'run' && !body.closed) return fault(number, 'the checksum line is missing: the file is cut short');
  const { inputs, events, notes, card } = body;
  const said = { ...(notes.length > 0 && { notes }), ...(card.length > 0 && { card }) };
  return { ok: true, value: { ...head.value, inputs, events, ...said } };
}

/** What has been read so far. */
interface Body {
  readonly what: What;
  readonly inputs: RecordedInput[];
  readonly events: RunEvent[];
  readonly notes: NoteInfo[];
  readonly card: CardEntry[];
  /** Ids of the notes and texts of the card's entries so far: none stands twice. */
  readonly seen: Set<string>;
  crc: number;
  /** The checksum line has been read: nothing may follow. */
  closed: boolean;
}

function emptyBody(what: What, crc: number): Body {
  return { what, inputs: [], events: [], notes: [], card: [], seen: new Set(), crc, closed: false };
}

function fault(line: number, reason: string): { readonly ok: false; readonly line: number; readonly reason: string } {
  return { ok: false, line, reason };
}

function decodeHeader(line: string): Decoded<Pick<RunFile, 'what' | 'header' | 'labels'>> {
  const parsed = parseLine(line);
  if (!parsed.ok) return fault(1, parsed.reason);
  const complaint = headerShape.check(parsed.value, '');
  if (complaint) return fault(1, complaintText(complaint));
  const {
    bowlside: _format,
    what,
    engine,
    condition,
    probeLagS,
    correction,
    check,
    corrections,
    roles,
    sensors,
    decimalComma,
    format,
    learned,
    companions,
    profile,
    ...labels
  } = parsed.value as unknown as HeaderLine;
  const said = { engine, profile, condition, probeLagS, correction, roles, decimalComma };
  const header = {
    ...said,
    ...(check !== undefined && { check }),
    ...(corrections !== undefined && { corrections }),
    ...(sensors !== undefined && { sensors }),
    ...(format !== undefined && { format }),
    ...(learned !== undefined && { learned }),
    ...(companions !== undefined && { companions }),
  };
  return { ok: true, value: { what, header, labels } };
}

/** Adds the line to the body; says what is wrong with it, or null. */
function takeLine(body: Body, line: string): string | null {
  if (body.closed) return 'nothing may follow the checksum line';
  const parsed = parseLine(line);
  if (!parsed.ok) return parsed.reason;
  if (Object.hasOwn(parsed.value, 'checksum')) return takeChecksum(body, parsed.value);
  body.crc = body.what === 'run' ? crc32(`${line}\n`, body.crc) : 0;
  if (Object.hasOwn(parsed.value, 'note')) return takeNote(body, parsed.value);
  if (Object.hasOwn(parsed.value, 'card')) return takeCardEntry(body, parsed.value);
  if (body.seen.size > 0) return 'inputs and events stand before notes and card';
  return Object.hasOwn(parsed.value, 'seq') ? takeEvent(body, parsed.value) : takeInput(body, parsed.value);
}

function takeInput(body: Body, value: object): string | null {
  if (body.what === 'log') return 'an input has no place in a log';
  const complaint = inputComplaint(value);
  if (complaint) return complaintText(complaint);
  if (body.events.length > 0) return 'inputs stand before the events';
  const input = value as RecordedInput;
  const lastMs = body.inputs.at(-1)?.atMs ?? -Infinity;
  if (input.atMs < lastMs) return `atMs is ${input.atMs}: time may not go back (${lastMs} stands before it)`;
  body.inputs.push(input);
  return null;
}

function takeEvent(body: Body, value: object): string | null {
  if (body.what === 'trace') return 'an event has no place in a trace';
  const complaint = eventComplaint(value);
  if (complaint) return complaintText(complaint);
  const event = value as RunEvent;
  const due = body.events.length + 1;
  if (event.seq !== due) return `seq is ${event.seq}: events are numbered without holes, ${due} comes next`;
  body.events.push(event);
  return null;
}

function takeNote(body: Body, value: object): string | null {
  if (body.what !== 'run') return `a note has no place in a ${body.what}`;
  const complaint = noteLineShape.check(value, '');
  if (complaint) return complaintText(complaint);
  const { note } = value as { readonly note: NoteInfo };
  if (body.card.length > 0) return 'notes stand before the card';
  if (isSecond(body, note.id)) return `there are two notes ${note.id}`;
  body.notes.push(note);
  return null;
}

function takeCardEntry(body: Body, value: object): string | null {
  if (body.what !== 'run') return `an entry of a card has no place in a ${body.what}`;
  const complaint = cardLineShape.check(value, '');
  if (complaint) return complaintText(complaint);
  if (isSecond(body, cardLineShape.write(value))) return 'the same entry of the card stands there twice';
  body.card.push((value as { readonly card: CardEntry }).card);
  return null;
}

function isSecond({ seen }: Body, name: string): boolean {
  if (seen.has(name)) return true;
  seen.add(name);
  return false;
}

function takeChecksum(body: Body, value: object): string | null {
  if (body.what !== 'run') return `a checksum has no place in a ${body.what}`;
  const complaint: Complaint | null = checksumShape.check(value, '');
  if (complaint) return complaintText(complaint);
  const due = checksumLine(body.crc, body.inputs.length, body.events.length);
  if (checksumShape.write(value) !== due) return `the checksum does not fit what stands before it: ${due} is due`;
  body.closed = true;
  return null;
}

/** One bounded line as a JSON object. */
function parseLine(line: string): { ok: true; value: object } | { ok: false; reason: string } {
  if (line.length > MAX_LINE_CHARS)
    return { ok: false, reason: `the line is longer than ${MAX_LINE_CHARS} characters` };
  if (isTooDeep(line)) return { ok: false, reason: `nested deeper than ${MAX_DEPTH}` };
  try {
    const value: unknown = JSON.parse(line);
    if (typeof value === 'object' && value !== null && !Array.isArray(value)) return { ok: true, value };
    return { ok: false, reason: `the line is ${shown(value)}: a JSON object is wanted` };
  } catch {
    return { ok: false, reason: `the line is ${shown(line)}: a JSON object is wanted` };
  }
}

const QUOTE = 0x22;
const BACKSLASH = 0x5c;
/** `[` and `{`, `]` and `}`, differ from each other only in this bit. */
const SQUARE_OR_CURLY = 0x20;

/** Whether brackets outside of strings nest deeper than is read: found out before anything is built from them. */
function isTooDeep(line: string): boolean {
  let depth = 0;
  let quoted = false;
  for (let at = 0; at < line.length; at += 1) {
    const code = line.charCodeAt(at);
    if (quoted && code === BACKSLASH) at += 1;
    else if (code === QUOTE) quoted = !quoted;
    else if (quoted) continue;
    else if ((code | SQUARE_OR_CURLY) === 0x7b) depth += 1;
    else if ((code | SQUARE_OR_CURLY) === 0x7d) depth -= 1;
    if (depth > MAX_DEPTH) return true;
  }
  return false;
}
