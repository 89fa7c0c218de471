/**
 * The bench: which bowls stand on it, and what each thermometer there is in. Plain data and what follows from it; knows no ports, no runs and
 * no file. A bench that nobody has said anything of has one bowl, and its thermometer is in it.
 */
import type { Role } from '../core/record/command.ts';
import { roleShape } from '../core/record/input-file.ts';
import { FIRST_LEFT } from '../core/record/run.ts';
import { type Fields, list, object, orNull, record, text, wholeFrom } from '../core/record/shape.ts';

/** More bowls than two people can stir (ours). */
export const BOWLS_MOST = 4;
/** Channels, of all thermometers together, that one bowl and the room may have (the job asks for eight). */
export const CHANNELS_MOST = 8;
/** Longest name of a bowl, characters (ours: one line on a telephone). */
export const BOWL_NAME_MOST = 40;

export interface BenchBowl {
  readonly bowl: string;
  /** In the person's words; null: nobody has named it. */
  readonly name: string | null;
}

export type Roles = Readonly<Record<string, Role>>;
/** What the channels of one thermometer are, by bowl. A channel that is the room stands under whichever bowl it was said at. */
export type Placed = Readonly<Record<string, Roles>>;

export interface Bench {
  /** In the order they are shown; never empty. */
  readonly bowls: readonly BenchBowl[];
  /** The highest number that a bowl ever had: none is given twice, as what runs taught of a bowl goes by its id. */
  readonly lastNumber: number;
  /** By `thermometerId`; absent: nothing was said of this one. */
  readonly placed: Readonly<Record<string, Placed>>;
}

export const FIRST_BOWL = 'bowl-1';
export const PLAIN_BENCH: Bench = { bowls: [{ bowl: FIRST_BOWL, name: null }], lastNumber: 1, placed: {} };

const BOWL: Fields<BenchBowl> = { bowl: text, name: orNull(text) };
const BENCH: Fields<Bench> = {
  bowls: list(object(BOWL)),
  lastNumber: wholeFrom(1),
  placed: record(record(record(roleShape))),
};
const benchShape = object(BENCH);

/** A bench that is damaged counts as one that nothing was said of. */
export function benchFrom(value: unknown): Bench {
  if (benchShape.check(value, '') !== null) return PLAIN_BENCH;
  const bench = value as Bench;
  const ids = new Set(bench.bowls.map(({ bowl }) => bowl));
  const isFit = ids.size === bench.bowls.length && ids.size >= 1 && ids.size <= BOWLS_MOST;
  return isFit && [...ids].every((id) => numberOf(id) <= bench.lastNumber) ? bench : PLAIN_BENCH;
}

/** `bowl-3` is 3; anything else is no bowl of ours. */
function numberOf(bowl: string): number {
  return /^bowl-\d{1,6}$/.test(bowl) ? Number(bowl.slice('bowl-'.length)) : Infinity;
}

/** null: there is no room for another one. */
export function withBowl(bench: Bench, name: string | null): Bench | null {
  if (bench.bowls.length >= BOWLS_MOST) return null;
  const lastNumber = bench.lastNumber + 1;
  return { ...bench, lastNumber, bowls: [...bench.bowls, { bowl: `bowl-${lastNumber}`, name }] };
}

export function renamed(bench: Bench, bowl: string, name: string | null): Bench {
  return { ...bench, bowls: bench.bowls.map((each) => (each.bowl === bowl ? { bowl, name } : each)) };
}

/** Its thermometers are in nothing then; the last bowl stays. */
export function withoutBowl(bench: Bench, bowl: string): Bench {
  const bowls = bench.bowls.filter((each) => each.bowl !== bowl);
  if (bowls.length === 0) return bench;
  const first = bowls[0]!.bowl;
  const placed = mapped(bench.placed, ({ [bowl]: gone, ...others }) =>
    // What measured the room goes on doing so.
    gone === undefined ? others : { ...others, [first]: { ...mapped(gone, roomAlone), ...others[first] } },
  );
  return { ...bench, bowls, placed };
}

/** What its channels are to this bowl, as a run's header has it; null: it gives this bowl nothing. The room serves every bowl. */
export function rolesIn(placed: Placed, bowl: string): Roles | null {
  const elsewhere = Object.entries(placed).filter(([of]) => of !== bowl);
  const others = elsewhere.map(([, roles]) => mapped(roles, roomAlone));
  const roles: Roles = Object.assign({}, ...others, placed[bowl]);
  if (!Object.values(roles).some((role) => role !== 'ignored')) return null;
  // Where somebody put it the chocolate is; it is not whatever happens to come first besides.
  return hasChocolate(roles) || FIRST_LEFT in roles ? roles : { ...roles, [FIRST_LEFT]: 'ignored' };
}

function roomAlone(role: Role): Role {
  return role === 'room' ? role : 'ignored';
}

/** Whether the chocolate of a bowl with these roles comes from this thermometer. */
export function givesChocolate(roles: Roles): boolean {
  return hasChocolate(roles) || !(FIRST_LEFT in roles);
}

function hasChocolate(roles: Roles): boolean {
  return Object.values(roles).includes('chocolate');
}

/** The same roles with the chocolate named, where it was whatever comes first. */
export function withChocolateNamed(roles: Roles): Roles {
  return hasChocolate(roles) || FIRST_LEFT in roles ? roles : { ...roles, [FIRST_LEFT]: 'chocolate' };
}

/** How many channels a bowl has from thermometers with these roles. */
export function channelsOf(each: readonly Roles[]): number {
  return each.flatMap((roles) => Object.values(withChocolateNamed(roles))).filter((role) => role !== 'ignored').length;
}

export interface Place {
  readonly thermometer: string;
  /** A channel's key, or `FIRST_LEFT` for the thermometer as such. */
  readonly channel: string;
  readonly role: Role;
  /** The bowls whose chocolate or bath it is: one for chocolate, one or more for a bath; of no moment for the room and for nothing. */
  readonly bowls: readonly string[];
}

/**
 * The bench with one channel somewhere else. A bowl has one chocolate: what was in it before is in nothing then. `found`: where those
 * thermometers are that nobody has placed.
 */
export function withPlace(bench: Bench, place: Place, found: Bench['placed']): Bench {
  const { thermometer, channel, role } = place;
  const at = role === 'chocolate' || role === 'bath' ? place.bowls : [bench.bowls[0]!.bowl];
  const all: Bench['placed'] = { [thermometer]: {}, ...found, ...bench.placed };
  const placed: Record<string, Placed> = mapped(all, (before, id) => {
    const left = id === thermometer ? mapped(before, (roles) => without(roles, channel)) : before;
    return role === 'chocolate' ? mapped(left, (roles, of) => (at.includes(of) ? noChocolate(roles) : roles)) : left;
  });
  const roles: Record<string, Roles> = { ...placed[thermometer] };
  for (const bowl of at) roles[bowl] = { ...roles[bowl], [channel]: role };
  return { ...bench, placed: { ...placed, [thermometer]: roles } };
}

function without(roles: Roles, channel: string): Roles {
  const { [channel]: _, ...others } = roles;
  return others;
}

function noChocolate(roles: Roles): Roles {
  return mapped(roles, (role) => (role === 'chocolate' ? 'ignored' : role));
}

/** In words: what a person calls it, else which one it is on the bench. */
export function bowlName({ bowls }: Bench, bowl: string): string {
  const at = bowls.findIndex((each) => each.bowl === bowl);
  return bowls[at]?.name ?? `Bowl ${at + 1}`;
}

function mapped<From, To>(
  all: Readonly<Record<string, From>>,
  change: (value: From, key: string) => To,
): Record<string, To> {
  return Object.fromEntries(Object.entries(all).map(([key, value]) => [key, change(value, key)]));
}
