/** Which channel of a line is the chocolate, which the bath, which the room. Knows words and places, not values. */
import type { Role } from '../record/command.ts';
import type { ValuesC } from '../record/input.ts';
import { FIRST_LEFT } from '../record/run.ts';
import type { Channel } from './channel.ts';
import { partsOf } from './words.ts';

/** The channels of a line that measure something. */
export type GivenByRole = Readonly<Partial<Record<Exclude<Role, 'ignored'>, Channel>>>;

/** The same as temperatures alone. */
export function valuesByRole(...line: Parameters<typeof channelsByRole>): ValuesC {
  const given = Object.entries(channelsByRole(...line)).map(([role, { valueC }]) => [role, valueC] as const);
  return Object.fromEntries(given);
}

/**
 * Roles given by a person win; then a label that names one. Where nothing names the chocolate it is the first place left over, and
 * stays so while that place has no value: the next probe's value must never stand in for it. Others are ignored. Where `roles` say
 * what is left over (`FIRST_LEFT`), that is what its first place is, and no label makes it chocolate.
 * `places`: the keys of the whole line in order, missing values included.
 */
export function channelsByRole(
  channels: readonly Channel[],
  roles: Readonly<Record<string, Role>>,
  places: readonly string[] = channels.map((channel) => channel.key),
): GivenByRole {
  if (places.length === 1 && channels.length === 1) return givenByOne(channels[0]!, roles);
  const roleOf = roleByKey(places, roles);
  const given: { chocolate?: Channel; bath?: Channel; room?: Channel } = {};
  for (const channel of channels) {
    const role = roleOf.get(channel.key);
    if (role && role !== 'ignored') given[role] ??= channel;
  }
  return given;
}

/** The role of each place of a line; null: none. */
export function roleByKey(
  places: readonly string[],
  roles: Readonly<Record<string, Role>>,
): ReadonlyMap<string, Role | null> {
  const first = roles[FIRST_LEFT] ?? 'chocolate';
  const roleOf = new Map(places.map((key) => [key, roleOfKey(key, roles, first)]));
  const named = first !== 'ignored' && [...roleOf.values()].includes(first);
  const left = named ? undefined : places.find((key) => roleOf.get(key) === null);
  if (left !== undefined) roleOf.set(left, first);
  return roleOf;
}

function roleOfKey(key: string, roles: Readonly<Record<string, Role>>, first: Role): Role | null {
  if (Object.hasOwn(roles, key)) return roles[key]!;
  const role = roleByLabel(key);
  return role === 'chocolate' && first !== 'chocolate' ? null : role;
}

const ROLE_WORDS: readonly (readonly [Role, readonly string[]])[] = [
  [
    'chocolate',
    `chocolate choc choco bowl schokolade schoko chocolat cioccolato cioccolata chokolade choklad sjokolade czekolada шоколад
     couverture`.split(/\s+/),
  ],
  [
    'bath',
    `bath waterbath water wasserbad wasser bad bain eau bagno acqua baño bano agua vattenbad vatten vandbad vand`.split(
      /\s+/,
    ),
  ],
  ['room', `room ambient amb air raum zimmer umgebung luft ambiente ambiante rum outside außen aussen`.split(/\s+/)],
];

/** A line of one value has nothing to be told apart from. */
function givenByOne(channel: Channel, roles: Readonly<Record<string, Role>>): GivenByRole {
  switch (roleOfOne(channel.key, roles)) {
    case 'chocolate':
      return { chocolate: channel };
    case 'bath':
      return { bath: channel };
    case 'room':
      return { room: channel };
    case 'ignored':
      return {};
  }
}

/** The last answer is kept: line after line asks the same. */
let lastOne: { readonly key: string; readonly roles: Readonly<Record<string, Role>>; readonly role: Role } | null =
  null;

function roleOfOne(key: string, roles: Readonly<Record<string, Role>>): Role {
  if (lastOne?.key === key && lastOne.roles === roles) return lastOne.role;
  const first = roles[FIRST_LEFT] ?? 'chocolate';
  const role = roleOfKey(key, roles, first) ?? first;
  lastOne = { key, roles, role };
  return role;
}

/** The labels met so far, up to so many (ours: a thermometer has few), with what they say: each is taken apart once, not with every line. */
const MET_MOST = 64;
const met = new Map<string, Role | null>();

function roleByLabel(key: string): Role | null {
  const known = met.get(key);
  if (known !== undefined) return known;
  const parts = partsOf(key);
  const role = ROLE_WORDS.find(([, words]) => words.some((word) => parts.includes(word)))?.[0] ?? null;
  if (met.size < MET_MOST) met.set(key, role);
  return role;
}
