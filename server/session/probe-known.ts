/** What is known of a thermometer in a bowl as it is told to whoever asks: each probe with its check, and what each number of a line is taken for. */
import { uncertaintyAt, WORK_C } from '../core/check/correction.ts';
import type { NumberKnown, ProbeInUse, RoleInUse } from '../core/check/told.ts';
import type { LineReading } from '../core/reading/channel.ts';
import { numbersOf } from '../core/reading/numbers.ts';
import { type Recognition, recognise } from '../core/reading/recognition.ts';
import { roleByKey } from '../core/reading/roles.ts';
import { likelySensor, sensed } from '../core/reading/sensed.ts';
import type { Role } from '../core/record/command.ts';
import { correctedOf } from '../core/record/probe.ts';
import { type Companion, type Corrected, FIRST_LEFT } from '../core/record/run.ts';
import { isOld } from './check-info.ts';

/** A thermometer of the bowl: what is known of it, and what its lines have told. */
export interface ProbeSource {
  readonly source: string;
  /** It is the one in the chocolate. */
  readonly isMain: boolean;
  readonly known: Companion;
  readonly recognition: Recognition;
  /** Newest first. */
  readonly lines: readonly string[];
}

/** The probes of a thermometer that are in something, by what its newest readable line shows. */
export function probesInUse(from: ProbeSource, nowWallMs: number): readonly ProbeInUse[] {
  const { source, known, isMain } = from;
  return placesInUse(from).map(({ channel, role }) => {
    const { correction, check = null } = correctedOf(known, channel, !isMain || role === 'chocolate');
    return {
      source,
      channel,
      role,
      correction,
      check,
      isOld: check !== null && isOld(check, nowWallMs),
      uncertainty: check === null ? null : uncertaintyAt(check.points, WORK_C),
    };
  });
}

/** How what the thermometer says of the chocolate is corrected. */
export function chocolateCorrected(from: ProbeSource): Corrected {
  // Where no channel has a correction of its own, nobody need know which it is.
  const isByChannel = from.known.corrections !== undefined;
  const place = isByChannel ? placesInUse(from).find(({ role }) => role === 'chocolate') : undefined;
  return correctedOf(from.known, place?.channel ?? null, true);
}

type PlaceInUse = Pick<ProbeInUse, 'channel' | 'role'>;

/** The first place of each role, as only that one is read. */
function placesInUse({ known, recognition, lines, isMain }: ProbeSource): readonly PlaceInUse[] {
  const read = firstReadable(lines, recognition, known);
  const roleOf = read === null ? saidRoles(known, isMain) : [...roleByKey(read.places, known.roles)];
  const isAlone = roleOf.length === 1;
  const found = new Map<Role, PlaceInUse>();
  for (const [key, role] of roleOf) {
    if (role === null || role === 'ignored' || found.has(role)) continue;
    found.set(role, { channel: isAlone || key === FIRST_LEFT ? null : key, role });
  }
  return ROLES_IN_ORDER.flatMap((role) => found.get(role) ?? []);
}

const ROLES_IN_ORDER: readonly RoleInUse[] = ['chocolate', 'bath', 'room'];

/** Before its first line: what a person said, and that the bowl's own thermometer is in its chocolate. */
function saidRoles({ roles }: Companion, isMain: boolean): readonly (readonly [string, Role])[] {
  const said = Object.entries(roles);
  const isSaid = said.some(([key, role]) => role === 'chocolate' || key === FIRST_LEFT);
  return isMain && !isSaid ? [...said, [FIRST_LEFT, 'chocolate']] : said;
}

function firstReadable(lines: readonly string[], recognition: Recognition, known: Companion) {
  for (const line of lines) {
    const read = sensed(readingOf(recognition, line, known), known.sensors);
    if (read.ok) return read;
  }
  return null;
}

export function numbersKnown({ lines, recognition, known }: ProbeSource): NumberKnown[] {
  const line = lines[0];
  if (line === undefined) return [];
  const { sensors = {}, roles } = known;
  const channels = numbersOf(recognition, line, known);
  const made = sensed({ ok: true, channels, places: channels.map(({ key }) => key) }, sensors);
  const used = sensed(readingOf(recognition, line, known), sensors);
  const roleOf = used.ok ? roleByKey(used.places, roles) : new Map<string, Role | null>();
  return channels.map(({ key, valueC, electric = null }) => ({
    key,
    value: valueC,
    unit: electric,
    sensor: Object.hasOwn(sensors, key) ? sensors[key]! : null,
    likely: electric === null ? null : likelySensor(valueC, electric),
    valueC: made.ok ? (made.channels.find((channel) => channel.key === key)?.valueC ?? null) : null,
    role: usedRole(roleOf.get(key) ?? null),
  }));
}

function usedRole(role: Role | null): Role | null {
  return role === 'ignored' ? null : role;
}

/** Of the line as it was read: again, with nothing that changes. */
function readingOf(recognition: Recognition, line: string, { roles, decimalComma }: Companion): LineReading {
  return recognise(recognition, line, 0, { roles, decimalComma }).reading;
}
