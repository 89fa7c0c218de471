/** Events as they stand in a file: the shape of each kind, checked key by key. Knows nothing of files or lines. */
import { probeCheckShape } from './check.ts';
import { ACTS } from './command.ts';
import {
  ALARMS,
  CUES,
  type RejectReason,
  type RunEvent,
  type Severity,
  type Standing,
  type StandingReason,
  type StirReason,
} from './event.ts';
import { conditionShape, lagShape } from './input-file.ts';
import { sensorShape } from './sensor.ts';
import {
  type Complaint,
  type Fields,
  finite,
  flag,
  object,
  oneOf,
  optional,
  orNull,
  type Shape,
  text,
  union,
  whole,
  wholeFrom,
} from './shape.ts';

const STIR_REASONS: readonly StirReason[] = ['unstirred', 'at-the-wall'];

const SEVERITIES: Readonly<Record<Severity, true>> = { critical: true, warning: true, notice: true };

const STANDINGS: Readonly<Record<Standing, true>> = {
  'not-made-yet': true,
  'in-temper': true,
  unproven: true,
  'at-risk': true,
  lost: true,
};

const STANDING_REASONS: Readonly<Record<StandingReason, true>> = {
  'seed-not-made': true,
  'seeded-and-rewarmed': true,
  'started-tempered': true,
  'forced-step': true,
  gap: true,
  'over-ceiling': true,
  'low-for-long': true,
  'above-lost': true,
  'strip-test-good': true,
  'strip-test-bad': true,
  'made-again': true,
};

const REJECT_REASONS: Readonly<Record<RejectReason, true>> = {
  empty: true,
  'no-number': true,
  'not-a-temperature': true,
  ambiguous: true,
  unsure: true,
  'bad-checksum': true,
  'too-long': true,
  'broken-json': true,
  'device-fault': true,
  'power-on-value': true,
  sentinel: true,
  implausible: true,
  spike: true,
  stuck: true,
  'not-the-bowl': true,
};

type EventKind = RunEvent['kind'];
type EventOf<K extends EventKind> = Extract<RunEvent, { kind: K }>;

function event<K extends EventKind>(kind: K, fields: Fields<Omit<EventOf<K>, 'seq' | 'atMs' | 'kind'>>): Shape {
  return object({ seq: wholeFrom(1), atMs: whole, kind: oneOf([kind]), ...fields });
}

/** One of the keys of a table that the compiler keeps complete. */
function keyOf(table: Readonly<Record<string, true>>): Shape {
  return oneOf(Object.keys(table));
}

const alarm = oneOf(ALARMS);

export const standingShape = keyOf(STANDINGS);
export const rejectShape = keyOf(REJECT_REASONS);

const EVENTS: { readonly [K in EventKind]: Shape } = {
  'run-started': event('run-started', { profile: text, condition: orNull(conditionShape) }),
  'phase-entered': event('phase-entered', {
    phase: text,
    from: orNull(text),
    by: oneOf(['reached', 'hand', 'recovery']),
  }),
  'band-reached': event('band-reached', { phase: text, valueC: finite }),
  'alarm-raised': event('alarm-raised', {
    alarm,
    severity: keyOf(SEVERITIES),
    phase: text,
    valueC: orNull(finite),
    limitC: orNull(finite),
    inS: optional(finite),
    peakC: optional(finite),
  }),
  'alarm-cleared': event('alarm-cleared', { alarm, lastedMs: whole, extremeC: orNull(finite) }),
  'alarm-acknowledged': event('alarm-acknowledged', { alarm, by: optional(text) }),
  'alarm-quietened': event('alarm-quietened', { alarm, untilMs: whole }),
  cue: event('cue', {
    cue: oneOf(CUES),
    phase: text,
    inS: optional(finite),
    landsC: optional(finite),
    bathC: optional(finite),
    why: optional(oneOf(STIR_REASONS)),
  }),
  standing: event('standing', { standing: standingShape, why: keyOf(STANDING_REASONS) }),
  act: event('act', { act: oneOf(ACTS) }),
  link: event('link', { up: flag, why: optional(text), source: optional(text) }),
  probe: event('probe', { state: oneOf(['out', 'in']), sinceMs: whole }),
  rejected: event('rejected', { reason: rejectShape, count: wholeFrom(1), sample: text }),
  'correction-changed': event('correction-changed', {
    offsetC: finite,
    gain: finite,
    check: optional(probeCheckShape),
    channel: optional(text),
  }),
  'role-changed': event('role-changed', {
    channel: text,
    role: text,
    sensor: optional(sensorShape),
    lagS: optional(orNull(lagShape)),
    source: optional(text),
  }),
  'run-ended': event('run-ended', { by: oneOf(['hand', 'trace']) }),
};

export const eventShape: Shape = union('kind', EVENTS);

/** The event as one line of JSON, without terminator; the same event always gives the same text. */
export function encodeEvent(logged: RunEvent): string {
  return eventShape.write(logged);
}

/** null where the decoded JSON value is an event. */
export function eventComplaint(value: unknown): Complaint | null {
  return eventShape.check(value, '');
}
