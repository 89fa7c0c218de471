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

const CHECKS: Readonly<Record<ServerMessage['kind'], (message: Fields) => boolean>> = {
  welcome: (m) => isCount(m['protocol']) && isText(m['epoch']) && isText(m['bowl']) && isNumber(m['atMs']),
  bowls: (m) => listOf(isBowlLabel)(m['bowls']) && (m['bowls'] as readonly unknown[]).length > 0,
  'nothing-missed': (m) => isText(m['bowl']) && orNull(isText)(m['run']),
  tail: isStretch,
  news: isStretch,
  snapshot: (m) =>
    isText(m['bowl']) &&
    orNull(isRunInfo)(m['info']) &&
    listOf(isRunEvent)(m['events']) &&
    listOf(isTile)(m['tiles']) &&
    listOf(isNoteInfo)(m['notes']) &&
    isCount(m['readingCount']),
  now: (m) =>
    isText(m['bowl']) &&
    orNull(isText)(m['run']) &&
    isNumber(m['atMs']) &&
    orNull(isNowReading)(m['reading']) &&
    typeof m['stale'] === 'boolean' &&
    orNull(isNumber)(m['probeOutSinceMs']) &&
    orNull(isEstimate)(m['estimate']) &&
    listOf(isFanBead)(m['fan']) &&
    listOf(isFanBead)(m['fanIfLeft']) &&
    orNull(isText)(m['mixing']) &&
    orNull(isCeiling)(m['careful']) &&
    orNull(isWaitingFor)(m['waitingFor']) &&
    orNull(isNumber)(m['roomC']) &&
    isAbsentOr(isCheckInfo)(m['check']) &&
    orNull(isText)(m['bellTrouble']) &&
    orNull(isNumber)(m['dwellLeftS']) &&
    isLinkState(m['link']),
  note: (m) => isText(m['bowl']) && isText(m['run']) && isNoteInfo(m['note']),
  'run-changed': (m) => isText(m['bowl']) && isText(m['run']),
  heartbeat: (m) => isNumber(m['atMs']),
  refused: (m) => isText(m['reason']),
};

function isStretch(m: Fields): boolean {
  return (
    isText(m['bowl']) &&
    isText(m['run']) &&
    listOf(isRunEvent)(m['events']) &&
    listOf(isWireReading)(m['readings']) &&
    isCount(m['readingCount'])
  );
}

/** The body of an event is trusted to fit its kind: the fold passes over kinds it does not know. */
export function isRunEvent(value: unknown): value is RunEvent {
  return isRecord(value) && isCount(value['seq']) && isNumber(value['atMs']) && isText(value['kind']);
}

export function isWireReading(value: unknown): value is WireReading {
  if (!Array.isArray(value) || value.length < 4) return false;
  return isNumber(value[0]) && isNumber(value[1]) && isCount(value[2]) && orNull(isNumber)(value[3]);
}

export function isTile(value: unknown): value is Tile {
  if (!Array.isArray(value) || value.length < 4) return false;
  return isNumber(value[0]) && value.slice(1, 4).every(orNull(isNumber));
}

export function isNoteInfo(value: unknown): value is NoteInfo {
  if (!isRecord(value) || !isText(value['id']) || !isNumber(value['atMs']) || !isText(value['text'])) return false;
  return (
    isAbsentOr(isText)(value['replaces']) &&
    isAbsentOr(isNumber)(value['untilMs']) &&
    isAbsentOr(listOf(isText))(value['tags'])
  );
}

export function isRunInfo(value: unknown): value is RunInfo {
  if (!isRecord(value) || !isRecord(value['profile'])) return false;
  const phases = value['profile']['phases'];
  return (
    isText(value['run']) &&
    typeof value['simulated'] === 'boolean' &&
    isNumber(value['startedAtMs']) &&
    isText(value['startedAtWall']) &&
    Array.isArray(phases) &&
    phases.length > 0 &&
    phases.every(isPhase)
  );
}

function isPhase(value: unknown): boolean {
  if (!isRecord(value)) return false;
  const { id, heading, bandC } = value;
  const known = heading === 'up' || heading === 'down' || heading === 'hold';
  return isText(id) && known && Array.isArray(bandC) && bandC.length === 2 && bandC.every(isNumber);
}

function isNowReading(value: unknown): boolean {
  return isRecord(value) && isNumber(value['valueC']) && isNumber(value['atMs']) && isText(value['quality']);
}

function isBowlLabel(value: unknown): boolean {
  return isRecord(value) && isText(value['bowl']) && orNull(isText)(value['name']);
}

function isCeiling(value: unknown): boolean {
  return isRecord(value) && isNumber(value['limitC']) && isText(value['coating']);
}

function isCheckInfo(value: unknown): boolean {
  return (
    isRecord(value) &&
    isText(value['checkedAtWall']) &&
    typeof value['isOld'] === 'boolean' &&
    ['biasC', 'noiseC', 'withinC'].every((key) => isNumber(value[key]))
  );
}

function isWaitingFor(value: unknown): boolean {
  return isRecord(value) && isText(value['title']) && isText(value['condition']);
}

function isEstimate(value: unknown): boolean {
  return (
    isRecord(value) && isNumber(value['tempC']) && isNumber(value['rateCPerMin']) && orNull(isNumber)(value['etaS'])
  );
}

function isFanBead(value: unknown): boolean {
  return isRecord(value) && ['inS', 'lowC', 'medianC', 'highC'].every((key) => isNumber(value[key]));
}

function isLinkState(value: unknown): boolean {
  if (!isRecord(value) || !isText(value['state'])) return false;
  const texts = ['sample', 'why', 'asks'].every((key) => isAbsentOr(orNull(isText))(value[key]));
  return texts && isAbsentOr(isNumber)(value['baud']);
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

function isText(value: unknown): value is string {
  return typeof value === 'string';
}

function isNumber(value: unknown): value is number {
  return typeof value === 'number' && Number.isFinite(value);
}

function isCount(value: unknown): value is number {
  return Number.isInteger(value) && (value as number) >= 0;
}

function isAbsentOr(check: Check): Check {
  return (value) => value === undefined || check(value);
}

function orNull(check: Check): Check {
  return (value) => value === null || value === undefined || check(value);
}

function listOf(check: Check): Check {
  return (value) => Array.isArray(value) && value.every(check);
}
