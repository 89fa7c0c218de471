/**
 * Where each channel of each thermometer is, as its newest line shows it, and putting one somewhere else. Knows the bench and what is read; what
 * follows for the bowls is the router's.
 */
import {
  type Bench,
  CHANNELS_MOST,
  channelsOf,
  givesChocolate,
  type Place,
  type Placed,
  type Roles,
  rolesIn,
  withPlace,
} from './bench.ts';
import { roleByKey } from '../core/reading/roles.ts';
import type { Role } from '../core/record/command.ts';
import { FIRST_LEFT } from '../core/record/run.ts';
import type { KeptBench } from './kept-bench.ts';
import type { KnownProbes } from '../known/known-probes.ts';
import type { Feed, Router } from './router.ts';
import type { Session } from '../session/session.ts';
import type { Places } from '../session/thermometers.ts';

/** One channel of a thermometer: what it says, and what it is. */
export interface ChannelPlace {
  /** `FIRST_LEFT` before its first line. */
  readonly channel: string;
  /** As sent, °C; null: nothing yet. */
  readonly valueC: number | null;
  readonly role: Role;
  /** Whose chocolate or bath; every one for the room, empty for nothing. */
  readonly bowls: readonly string[];
}

/** Why a channel was not put there. `going`: it would take the chocolate's thermometer from a run. */
export type NotPlaced = 'no-thermometer' | 'no-channel' | 'no-bowl' | 'one-bowl' | 'full' | 'going';

export interface PlacingOptions {
  readonly bench: KeptBench;
  readonly router: Router;
  readonly sessions: ReadonlyMap<string, Pick<Session, 'status'>>;
  readonly probes: Pick<KnownProbes, 'uncheck'>;
}

export class Placing {
  readonly #options: PlacingOptions;

  constructor(options: PlacingOptions) {
    this.#options = options;
  }

  /** At most as many as a bowl may have, in the order of the line. */
  channelsOf(feed: Feed): readonly ChannelPlace[] {
    const said = saidBy(feed);
    const keys = said === null ? [FIRST_LEFT] : [...said.keys()].slice(0, CHANNELS_MOST);
    const inBowls = this.#rolesByBowl(feed, keys);
    return keys.map((channel) => ({ channel, valueC: said?.get(channel) ?? null, ...whereIs(channel, inBowls) }));
  }

  /** The bench as the session of this bowl asks it. A thermometer that is alone on it keeps what is said of its channels to itself. */
  placesOf(bowl: string): Places {
    const { bench, router, sessions } = this.#options;
    return {
      rolesOf: (source) => router.rolesOf(source, bowl),
      assign: (source, channel, role) => {
        const { bowls, placed } = bench.now;
        const thermometer = router.nameOf(source);
        if (bowls.length === 1 && router.feeds.length <= 1 && placed[thermometer] === undefined) return false;
        bench.change(withPlace(bench.now, { thermometer, channel, role, bowls: [bowl] }, router.found()));
        return true;
      },
      isInRun: (source, channel) => {
        const feed = router.feeds.find((each) => each.source.id === source);
        const channels = feed === undefined ? [] : this.channelsOf(feed);
        const bowls = channels
          .filter((each) => channel === null || each.channel === channel)
          .flatMap((each) => each.bowls);
        return bowls.some((each) => sessions.get(each)?.status().state === 'going');
      },
    };
  }

  isBowl(bowl: string): boolean {
    return this.#options.sessions.has(bowl);
  }

  /** The bowl whose chocolate a thermometer is in; null: none's. */
  homeOf(thermometer: string): string | null {
    const { router, sessions } = this.#options;
    return [...sessions.keys()].find((bowl) => router.mainOf(bowl)?.name === thermometer) ?? null;
  }

  /** null: it is there now. */
  place(place: Place): NotPlaced | null {
    const { bench, router, sessions, probes } = this.#options;
    const feed = router.feeds.find(({ name }) => name === place.thermometer);
    if (feed === undefined) return 'no-thermometer';
    if (!this.channelsOf(feed).some(({ channel }) => channel === place.channel)) return 'no-channel';
    if (place.bowls.some((bowl) => !sessions.has(bowl))) return 'no-bowl';
    if (place.role === 'chocolate' && place.bowls.length !== 1) return 'one-bowl';
    if (place.role === 'bath' && place.bowls.length === 0) return 'one-bowl';
    const next = withPlace(this.#spelledOut(feed), place, router.found());
    if (this.#takesFromRun(next, place)) return 'going';
    if ([...sessions.keys()].some((bowl) => channelsIn(next, bowl, router.feeds) > CHANNELS_MOST)) return 'full';
    if (this.#isOtherChocolate(feed, next)) probes.uncheck(feed.source);
    bench.change(next);
    return null;
  }

  /** Whether a channel of it comes to be a chocolate that was none before. */
  #isOtherChocolate(feed: Feed, next: Bench): boolean {
    const keys = this.channelsOf(feed).map(({ channel }) => channel);
    const chocolatesOf = (roles: Roles | null): string[] =>
      roles === null ? [] : keys.filter((key) => roleByKey(keys, roles).get(key) === 'chocolate');
    const { router, sessions } = this.#options;
    const bowls = [...sessions.keys()];
    const before = new Set(bowls.flatMap((bowl) => chocolatesOf(router.rolesIn(feed, bowl))));
    return bowls.some((bowl) =>
      chocolatesOf(rolesIn(next.placed[feed.name] ?? {}, bowl)).some((key) => !before.has(key)),
    );
  }

  /** The bench with every channel of this thermometer named as what it is now: what is left over never becomes the chocolate by itself. */
  #spelledOut(feed: Feed): Bench {
    const { bench } = this.#options;
    const said = saidBy(feed);
    if (said === null) return bench.now;
    const inBowls = this.#rolesByBowl(feed, [...said.keys()]);
    const placed: Placed = Object.fromEntries(
      [...inBowls].map(([bowl, roles]) => [
        bowl,
        Object.fromEntries([...roles].filter(([, role]) => role !== 'ignored')),
      ]),
    );
    return { ...bench.now, placed: { ...bench.now.placed, [feed.name]: placed } };
  }

  #rolesByBowl(feed: Feed, keys: readonly string[]): ReadonlyMap<string, ReadonlyMap<string, Role>> {
    const { sessions, router } = this.#options;
    const entries = [...sessions.keys()].map((bowl) => {
      const roles = router.rolesIn(feed, bowl);
      return [bowl, roles === null ? new Map<string, Role>() : roleOfEach(keys, roles)] as const;
    });
    return new Map(entries);
  }

  #takesFromRun(next: Bench, { role, bowls }: Place): boolean {
    const { router, sessions } = this.#options;
    return [...sessions].some(([bowl, session]) => {
      const main = router.mainOf(bowl);
      if (main === null || session.status().state !== 'going' || (role === 'chocolate' && bowls.includes(bowl)))
        return false;
      const roles = rolesIn(next.placed[main.name] ?? {}, bowl);
      return roles === null || !givesChocolate(roles);
    });
  }
}

function channelsIn(bench: Bench, bowl: string, feeds: readonly Feed[]): number {
  const each = feeds.map(({ name }) => rolesIn(bench.placed[name] ?? {}, bowl));
  return channelsOf(each.filter((roles) => roles !== null));
}

/** Values by channel, of the newest line that could be read, null where one is missing; null before it. */
function saidBy({ said }: Feed): ReadonlyMap<string, number | null> | null {
  if (said === null) return null;
  const values = new Map(said.channels.map(({ key, valueC }) => [key, valueC]));
  return new Map(said.places.map((key) => [key, values.get(key) ?? null]));
}

function roleOfEach(keys: readonly string[], roles: Roles): ReadonlyMap<string, Role> {
  return new Map(Array.from(roleByKey(keys, roles), ([key, role]) => [key, role ?? 'ignored']));
}

function whereIs(channel: string, inBowls: ReadonlyMap<string, ReadonlyMap<string, Role>>) {
  const bowls = [...inBowls]
    .filter(([, roles]) => (roles.get(channel) ?? 'ignored') !== 'ignored')
    .map(([bowl]) => bowl);
  const role = bowls.length === 0 ? 'ignored' : inBowls.get(bowls[0]!)!.get(channel)!;
  return { role, bowls };
}
