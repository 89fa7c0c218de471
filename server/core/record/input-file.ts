/**
 * Inputs and commands as they stand in a file or arrive in a request: their shapes, checked key by key.
 * Knows nothing of files or lines, nor whether a command makes sense at the moment.
 */
import { probeCheckShape } from './check.ts';
import { ACTS, type Command, type CommandName, type Condition, type Role } from './command.ts';
import { ALARMS } from './event.ts';
import type { RecordedInput, ValuesC } from './input.ts';
import { profileShape } from './profile-shape.ts';
import { PROBE_LAG_MAX_S } from './run.ts';
import { sensorShape } from './sensor.ts';
import {
  bytes,
  type Complaint,
  type Fields,
  finite,
  flag,
  type JsonSchema,
  object,
  oneOf,
  optional,
  orNull,
  type Shape,
  text,
  union,
  whole,
  within,
} from './shape.ts';

/** Seconds to 63.2 % of a step. */
export const lagShape: Shape = within(0, PROBE_LAG_MAX_S);

const CONDITIONS: readonly Condition[] = ['solid', 'melted', 'tempered'];
const ROLES: readonly Role[] = ['chocolate', 'bath', 'room', 'ignored'];

export const conditionShape: Shape = oneOf(CONDITIONS);
export const roleShape: Shape = oneOf(ROLES);

type CommandOf<K extends CommandName> = Extract<Command, { name: K }>;

function command<K extends CommandName>(name: K, fields: Fields<Omit<CommandOf<K>, 'name'>>): Shape {
  return object({ name: oneOf([name]), ...fields });
}

const COMMANDS: { readonly [K in CommandName]: Shape } = {
  'choose-profile': command('choose-profile', { profile: profileShape, condition: conditionShape }),
  start: command('start', { phase: text }),
  next: command('next', {}),
  back: command('back', {}),
  end: command('end', {}),
  act: command('act', { act: oneOf(ACTS) }),
  acknowledge: command('acknowledge', { alarm: oneOf(ALARMS), by: optional(text) }),
  quieten: command('quieten', { alarm: oneOf(ALARMS) }),
  'assign-role': command('assign-role', {
    channel: text,
    role: roleShape,
    sensor: optional(sensorShape),
    lagS: optional(orNull(lagShape)),
    source: optional(text),
  }),
  'choose-reading': command('choose-reading', { decimalComma: flag, source: optional(text) }),
  'set-correction': command('set-correction', {
    offsetC: finite,
    gain: finite,
    check: optional(probeCheckShape),
    channel: optional(text),
    source: optional(text),
  }),
};

export const commandShape: Shape = union('name', COMMANDS);

/** As a request may word it: a profile by its id, too. Says what it looks like; `parseCommand` says what is wrong with it. */
export const askedCommandSchema: JsonSchema = union('name', {
  ...COMMANDS,
  'choose-profile': command('choose-profile', {
    profile: { ...profileShape, schema: { anyOf: [text.schema, profileShape.schema] } },
    condition: conditionShape,
  }),
}).schema;

const VALUES: Fields<ValuesC> = {
  chocolate: optional(orNull(finite)),
  bath: optional(orNull(finite)),
  room: optional(orNull(finite)),
};

type InputKind = RecordedInput['kind'];
type InputOf<K extends InputKind> = Extract<RecordedInput, { kind: K }>;

function input<K extends InputKind>(kind: K, fields: Fields<Omit<InputOf<K>, 'atMs' | 'source' | 'kind'>>): Shape {
  return object({ atMs: whole, source: text, kind: oneOf([kind]), ...fields });
}

const INPUTS: { readonly [K in InputKind]: Shape } = {
  line: input('line', { text: bytes }),
  reading: input('reading', { valuesC: object(VALUES) }),
  link: input('link', { up: flag, why: optional(text) }),
  command: input('command', { command: commandShape }),
  end: input('end', {}),
};

const inputShape: Shape = union('kind', INPUTS);

/** The input as one line of JSON, without terminator; the same input always gives the same text. */
export function encodeInput(recorded: RecordedInput): string {
  return inputShape.write(recorded);
}

/** null where the decoded JSON value is a recorded input. */
export function inputComplaint(value: unknown): Complaint | null {
  return inputShape.check(value, '');
}

/** A command from decoded JSON (a request's body), or the exact complaint. Unknown keys are refused. */
export function commandFromJson(
  value: unknown,
): { readonly ok: true; readonly command: Command } | { readonly ok: false; readonly complaint: Complaint } {
  const complaint = commandShape.check(value, 'command');
  return complaint ? { ok: false, complaint } : { ok: true, command: value as Command };
}
