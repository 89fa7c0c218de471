/**
 * Text from the socket becomes a message, or a reason why not. A page may meet a newer or a broken server: kinds it does not know are
 * told apart from known ones of a wrong shape, and fields it does not know are let through. Knows nothing of sockets.
 */
import type { NoteInfo, RunInfo, ServerMessage, Tile, WireReading } from './wire.ts';
import type { RunEvent } from '../record/event.ts';

export type Decoded =
  | { readonly ok: true; readonly message: ServerMessage }
  | { readonly ok: false; readonly reason: 'not-json' | 'unknown-kind' | 'wrong-shape'; readonly what: string };

/** `what` is the kind, or the start of the text where there is none. Never throws. */
export function decodeServerMessage(text: string): Decoded {
  const value = parse(text);
  if (!isRecord(value) || typeof value['kind'] !== 'string') {
    return { ok: false, reason: 'not-json', what: text.slice(0, WHAT_MAX_CHARS) };
  }
  const kind = value['kind'];
  const check = Object.hasOwn(CHECKS, kind) ? CHECKS[kind as ServerMessage['kind']] : undefined;
  if (check === undefined) return { ok: false, reason: 'unknown-kind', what: kind };
  if (!check(value)) return { ok: false, reason: 'wrong-shape', what: kind };
  return { ok: true, message: value as unknown as ServerMessage };
}

/** How much of an unreadable message is kept for saying what it was (ours). */
const WHAT_MAX_CHARS = 80;

type Fields = Readonly<Record<string, unknown>>;
type Check = (value: unknown) => boolean;

/** The body of an event is trusted to fit its kind: the fold passes over kinds it does not know. */
export const isRunEvent = shaped<RunEvent>({ seq: isCount, atMs: isNumber, kind: isText });

export const isNoteInfo = shaped<NoteInfo>({
  id: isText,
  atMs: isNumber,
  text: isText,
  replaces: orAbsent(isText),
  untilMs: orAbsent(isNumber),
  tags: orAbsent(listOf(isText)),
});

const isPhase = shaped({
  id: isText,
  heading: (it) => it === 'up' || it === 'down' || it === 'hold',
  bandC: (it) => listOf(isNumber)(it) && (it as readonly unknown[]).length === 2,
});

export const isRunInfo = shaped<RunInfo>({
  run: isText,
  simulated: isBoolean,
  startedAtMs: isNumber,
  startedAtWall: isText,
  profile: shaped({ phases: isFilled(isPhase) }),
});

const isFanBead = shaped({ inS: isNumber, lowC: isNumber, medianC: isNumber, highC: isNumber });

/** What came since, of a run: nothing of it is there twice. */
const isStretch = shaped({
  bowl: isText,
  run: isText,
  events: listOf(isRunEvent),
  readings: listOf(isWireReading),
  readingCount: isCount,
});

const CHECKS: Readonly<Record<ServerMessage['kind'], Check>> = {
  welcome: shaped({ protocol: isCount, epoch: isText, bowl: isText, atMs: isNumber }),
  bowls: shaped({ bowls: isFilled(shaped({ bowl: isText, name: orNull(isText) })) }),
  'nothing-missed': shaped({ bowl: isText, run: orNull(isText) }),
  tail: isStretch,
  news: isStretch,
  snapshot: shaped({
    bowl: isText,
    info: orNull(isRunInfo),
    events: listOf(isRunEvent),
    tiles: listOf(isTile),
    notes: listOf(isNoteInfo),
    readingCount: isCount,
  }),
  now: shaped({
    bowl: isText,
    run: orNull(isText),
    atMs: isNumber,
    reading: orNull(shaped({ valueC: isNumber, atMs: isNumber, quality: isText })),
    stale: isBoolean,
    probeOutSinceMs: orNull(isNumber),
    estimate: orNull(shaped({ tempC: isNumber, rateCPerMin: isNumber, etaS: orNull(isNumber) })),
    fan: listOf(isFanBead),
    fanIfLeft: listOf(isFanBead),
    mixing: orNull(isText),
    careful: orNull(shaped({ limitC: isNumber, coating: isText })),
    waitingFor: orNull(shaped({ title: isText, condition: isText })),
    roomC: orNull(isNumber),
    check: orAbsent(
      shaped({ checkedAtWall: isText, isOld: isBoolean, biasC: isNumber, noiseC: isNumber, withinC: isNumber }),
    ),
    bellTrouble: orNull(isText),
    dwellLeftS: orNull(isNumber),
    link: shaped({
      state: isText,
      sample: orNull(isText),
      why: orNull(isText),
      asks: orNull(isText),
      baud: orAbsent(isNumber),
    }),
  }),
  note: shaped({ bowl: isText, run: isText, note: isNoteInfo }),
  'run-changed': shaped({ bowl: isText, run: isText }),
  heartbeat: shaped({ atMs: isNumber }),
  refused: shaped({ reason: isText }),
};

export function isWireReading(value: unknown): value is WireReading {
  if (!Array.isArray(value) || value.length < 4) return false;
  return isNumber(value[0]) && isNumber(value[1]) && isCount(value[2]) && orNull(isNumber)(value[3]);
}

export function isTile(value: unknown): value is Tile {
  if (!Array.isArray(value) || value.length < 4) return false;
  return isNumber(value[0]) && value.slice(1, 4).every(orNull(isNumber));
}

function parse(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}

function isRecord(value: unknown): value is Fields {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function isBoolean(value: unknown): value is boolean {
  return typeof value === 'boolean';
}

function isText(value: unknown): value is string {
  return typeof value === 'string';
}

function isNumber(value: unknown): value is number {
  return typeof value === 'number' && Number.isFinite(value);
}

function isCount(value: unknown): value is number {
  return Number.isInteger(value) && (value as number) >= 0;
}

function orAbsent(check: Check): Check {
  return (value) => value === undefined || check(value);
}

function orNull(check: Check): Check {
  return (value) => value === null || value === undefined || check(value);
}

function listOf(check: Check): Check {
  return (value) => Array.isArray(value) && value.every(check);
}

/** The same, and not empty. */
function isFilled(check: Check): Check {
  return (value) => listOf(check)(value) && (value as readonly unknown[]).length > 0;
}

/** Of a record, and each of these fields of it. Others are let through. */
function shaped<Shape>(fields: Readonly<Record<string, Check>>): (value: unknown) => value is Shape {
  const checks = Object.entries(fields);
  return (value): value is Shape => isRecord(value) && checks.every(([key, check]) => check(value[key]));
}
