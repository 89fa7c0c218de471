/**
 * Between thermometers and bowls: every input goes to each bowl that has a role for one of its channels, and is recorded there. Follows the
 * bench as it changes. Knows neither ports nor what a line says.
 */
import { givesChocolate, type Roles, rolesIn, withChocolateNamed } from './bench.ts';
import type { LineReading } from '../core/reading/channel.ts';
import { type Recognition, recognise, recognitionOf } from '../core/reading/recognition.ts';
import { sensed } from '../core/reading/sensed.ts';
import type { RecordedInput } from '../core/record/input.ts';
import { type Companion, FIRST_LEFT } from '../core/record/run.ts';
import type { Sensors } from '../core/record/sensor.ts';
import type { LinkState } from '../core/show/wire.ts';
import type { KeptBench } from './kept-bench.ts';
import type { Session } from '../session/session.ts';
import type { Choice } from '../session/idle.ts';
import type { Named } from '../session/thermometers.ts';
import type { Clock } from '../source/source.ts';

/** Where a bowl has none, and nobody is looking for one. */
const NO_THERMOMETER: LinkState = {
  state: 'looking',
  why: 'No thermometer is in this bowl yet. Under “Bowls”, say which probe is in it.',
};

export interface RouterOptions {
  readonly clock: Clock;
  readonly bench: KeptBench;
  readonly sessions: ReadonlyMap<string, Session>;
  /** The name by which a thermometer is known however it was found: what the bench calls it. */
  readonly nameOf: (source: string) => string;
  /** What is known of a thermometer where it is alone on the bench. */
  readonly known: (source: Named) => Pick<Companion, 'roles' | 'sensors' | 'decimalComma'>;
  /** What is chosen in a bowl that comes to a thermometer of this kind. */
  readonly choiceFor: (bowl: string, simulated: boolean) => Choice;
  /** Told before a bowl is given a thermometer. */
  readonly onMain: (bowl: string, simulated: boolean) => void;
}

/** The home of a thermometer that goes with the bench rather than with one bowl. */
export const FIRST_BOWL_THERE = 'first';

/** A source that is read. */
export interface Feed {
  readonly source: Named;
  /** What the bench calls it. */
  readonly name: string;
  /** The bowl whose chocolate it is in where nobody has said; FIRST_BOWL_THERE: whichever comes first; null: none. */
  readonly home: string | null;
  link: LinkState;
  /** What its inputs said of the link last. */
  isUp: boolean;
  lastLine: string | null;
  /** How it writes, as far as its lines have told. */
  recognition: Recognition;
  /** The temperatures of its newest line that had any, as sent; null: none yet. */
  said: Extract<LineReading, { ok: true }> | null;
}

/** To be asked of what it says, whatever that is in: no channel is left for the chocolate. The same one each time, as lines are read alike by it. */
const ANYWHERE: Roles = { [FIRST_LEFT]: 'ignored' };

/** The same where somebody has said what numbers are: those are read, too. */
function anywhere(sensors: Sensors): Roles {
  const named = Object.keys(sensors).map((channel) => [channel, 'ignored'] as const);
  return { ...Object.fromEntries(named), ...ANYWHERE };
}

/** A thermometer in a bowl, with what its channels are there. */
interface Fed {
  readonly feed: Feed;
  readonly roles: Roles;
}

export class Router {
  readonly #options: RouterOptions;
  readonly #feeds = new Map<string, Feed>();
  /** Bowls by the source that feeds them. */
  #routes: ReadonlyMap<string, readonly Session[]> = new Map();
  /** The source in the chocolate of each bowl that has one. */
  readonly #mains = new Map<string, string>();
  /** How it stands with the thermometer that is being looked for, which is the first bowl's. */
  #sought: LinkState = NO_THERMOMETER;
  #onFed: (session: Session) => void = () => {};

  constructor(options: RouterOptions) {
    this.#options = options;
  }

  /** Is told of each bowl once it has heard of its thermometer. */
  onFed(listener: (session: Session) => void): void {
    this.#onFed = listener;
  }

  get feeds(): readonly Feed[] {
    return [...this.#feeds.values()];
  }

  /** A source that is about to begin; `instead` of one that has ended. */
  add(source: Named, home: Feed['home'], instead: string | null = null): void {
    const link: LinkState = { state: 'looking', why: 'Opening the thermometer’s port.' };
    if (instead !== null) this.#feeds.delete(instead);
    const name = this.nameOf(source.id);
    const unheard = { isUp: false, lastLine: null, recognition: recognitionOf(null), said: null };
    this.#feeds.set(source.id, { source, name, home, link, ...unheard });
    this.arrange();
  }

  /** No source yet: how it stands with looking for one. */
  seek(link: LinkState): void {
    this.#sought = link;
    this.arrange();
  }

  remove(source: string): void {
    if (this.#feeds.delete(source)) this.arrange();
  }

  input(input: RecordedInput): void {
    const feed = this.#feeds.get(input.source);
    if (feed === undefined) return;
    if (input.kind === 'link') feed.isUp = input.up;
    if (input.kind === 'line') this.#hear(feed, input);
    for (const session of this.#routes.get(input.source) ?? []) {
      session.feed(input);
      this.#onFed(session);
    }
  }

  #hear(feed: Feed, { atMs, text }: Extract<RecordedInput, { kind: 'line' }>): void {
    const { decimalComma, sensors } = this.#options.known(feed.source);
    const { recognition, reading: read } = recognise(feed.recognition, text, atMs, {
      decimalComma,
      roles: sensors === undefined ? ANYWHERE : anywhere(sensors),
    });
    const reading = sensed(read, sensors);
    feed.lastLine = text;
    feed.recognition = recognition;
    if (reading.ok) feed.said = reading;
  }

  /** How a thermometer stands is told of the bowls whose chocolate it is in. */
  link(source: string, link: LinkState): void {
    const feed = this.#feeds.get(source);
    if (feed === undefined) return;
    feed.link = link;
    for (const [bowl, main] of this.#mains) if (main === source) this.#options.sessions.get(bowl)?.link(link);
  }

  /** What is in the chocolate of this bowl. */
  mainOf(bowl: string): Feed | null {
    return this.#feeds.get(this.#mains.get(bowl) ?? '') ?? null;
  }

  /** What the bench calls a thermometer. */
  nameOf(source: string): string {
    return this.#options.nameOf(source);
  }

  /** What the bench says of a thermometer in a bowl; null: nobody has said anything of it. */
  rolesOf(source: string, bowl: string): Roles | null {
    const placed = this.#options.bench.now.placed[this.nameOf(source)];
    return placed === undefined ? null : (rolesIn(placed, bowl) ?? {});
  }

  /** Where the thermometers are that nobody has placed, as if somebody had. */
  found(): Readonly<Record<string, Readonly<Record<string, Roles>>>> {
    const unplaced = this.feeds.filter(({ name }) => this.#options.bench.now.placed[name] === undefined);
    return Object.fromEntries(
      unplaced.map((feed) => {
        const home = this.#homeOf(feed);
        return [feed.name, home === null ? {} : { [home]: withChocolateNamed(this.#options.known(feed.source).roles) }];
      }),
    );
  }

  /** Sets every bowl right: to be called after every change of the bench. */
  arrange(): void {
    const { sessions } = this.#options;
    const routes = new Map<string, Session[]>();
    for (const [bowl, session] of sessions) {
      const fed = this.#fedBy(bowl);
      const main = fed.find(({ roles }) => givesChocolate(roles))?.feed;
      const beside = fed.filter(({ feed }) => feed !== main).map(({ feed }) => feed);
      const before = this.#routes;
      this.#give(bowl, session, main);
      session.stand(beside.map(({ source }) => source));
      for (const feed of main === undefined ? beside : [main, ...beside]) {
        routes.set(feed.source.id, [...(routes.get(feed.source.id) ?? []), session]);
        const isNew = before.get(feed.source.id)?.includes(session) !== true;
        if (isNew && feed.isUp) session.feed({ ...this.#linkUp(feed), atMs: this.#options.clock.nowMs() });
      }
    }
    this.#routes = routes;
    for (const bowl of this.#mains.keys()) if (!sessions.has(bowl)) this.#mains.delete(bowl);
  }

  #linkUp({ source }: Feed) {
    return { source: source.id, kind: 'link', up: true } as const;
  }

  #give(bowl: string, session: Session, main: Feed | undefined): void {
    if (main === undefined) {
      this.#mains.delete(bowl);
      return session.useNone(bowl === this.#options.bench.now.bowls[0]!.bowl ? this.#sought : NO_THERMOMETER);
    }
    if (this.#mains.get(bowl) === main.source.id) return;
    const { onMain, choiceFor } = this.#options;
    const { simulated } = main.source;
    this.#mains.set(bowl, main.source.id);
    onMain(bowl, simulated);
    session.use(main.source, choiceFor(bowl, simulated));
    session.link(main.link);
  }

  #fedBy(bowl: string): Fed[] {
    return this.feeds.flatMap((feed) => {
      const roles = this.rolesIn(feed, bowl);
      return roles === null ? [] : [{ feed, roles }];
    });
  }

  /** What the channels of a source are to a bowl; null: it gives this bowl nothing. */
  rolesIn(feed: Feed, bowl: string): Roles | null {
    const placed = this.#options.bench.now.placed[feed.name];
    if (placed !== undefined) return rolesIn(placed, bowl);
    return this.#homeOf(feed) === bowl ? this.#options.known(feed.source).roles : null;
  }

  #homeOf({ home }: Feed): string | null {
    return home === FIRST_BOWL_THERE ? this.#options.bench.now.bowls[0]!.bowl : home;
  }
}
