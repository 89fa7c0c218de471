/**
 * A whole server around one bowl whose thermometer and clock the test holds in its hands: session, store, page and sockets are the real
 * ones, listening on the loopback address at a free port, gone when the test is over.
 */
import { randomUUID } from 'node:crypto';
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { onTestFinished } from 'vitest';
import type { Command } from '../../server/core/record/command.ts';
import type { Profile } from '../../server/core/record/profile.ts';
import type { Learned } from '../../server/core/record/run.ts';
import type { ServerMessage } from '../../server/core/show/wire.ts';
import { Backups, userOf } from '../../server/backups/backups.ts';
import { type Http, openHttp } from '../../server/http.ts';
import { Judging } from '../../server/judging/judging.ts';
import { allRoutes } from '../../server/routes/routes.ts';
import type { Router } from '../../server/bench/router.ts';
import type { Route } from '../../server/routes/route.ts';
import { Live, type LiveTimings } from '../../server/live.ts';
import { KnownProbes } from '../../server/known/known-probes.ts';
import { Session } from '../../server/session/session.ts';
import type { CommandAnswer } from '../../server/session/answer.ts';
import { ONE_PLACE, type Places } from '../../server/session/thermometers.ts';
import { readOwn, Shelf } from '../../server/shelf.ts';
import { NO_CHOICE } from '../../server/session/idle.ts';
import type { LearnedOf } from '../../server/session/learned.ts';
import type { Store } from '../../server/store/store.ts';
import { benchAround, NO_PORTS, type OpenThermometers } from './bench.ts';
import { type Doorkeeper, doorkeeper } from './doorkeeper.ts';
import { shipped } from './shipped.ts';
import { BUILT_JUDGE, freshFolder, openedStore } from './store.ts';

export const BOWL = 'bowl-1';
/** The wall clock of every test stands here at feed clock 0. */
export const WALL_START_MS = Date.parse('2026-11-25T09:00:00.000Z');

/** A run that taught nothing of its bowl. */
export const NOTHING_LEARNED: Learned = { runs: 1, heatCourseS: null, coldCourseS: null };

/** One bowl, with its thermometer in the test's hands. */
export class Bowl {
  readonly session: Session;
  readonly store: Store;
  readonly probes: KnownProbes;
  /** Everything told so far. */
  readonly told: ServerMessage[] = [];
  /** How far somebody has set the wall clock, ms. */
  wallSetByMs = 0;
  #nowMs: number;

  /** Where thermometers are, for each bowl: a bench says it, where there is one. */
  places: (bowl: string) => Places = () => ONE_PLACE;
  /** What a bowl is called: a bench says it, where there are several. */
  nameOf: (bowl: string) => string | null = () => null;
  readonly #learnedOf: LearnedOf;

  constructor(store: Store, startAtMs = 0, learnedOf: LearnedOf = () => NOTHING_LEARNED) {
    this.#nowMs = startAtMs;
    this.store = store;
    this.probes = new KnownProbes({ folder: store.folder, flagLagS: null });
    this.#learnedOf = learnedOf;
    this.session = this.another(BOWL);
    this.session.onTell((message) => this.told.push(message));
    this.session.use({ id: 'test', simulated: false }, NO_CHOICE);
    this.session.feed({ atMs: this.#nowMs, source: 'test', kind: 'link', up: true });
  }

  readonly clock = { nowMs: (): number => this.#nowMs };

  /** One more bowl with the same clock and store, and no thermometer. */
  another(bowl: string): Session {
    const { store } = this;
    return new Session({
      bowl,
      clock: this.clock,
      store,
      yardstick: shipped('dark'),
      name: () => this.nameOf(bowl),
      profiles: () => ['dark', 'milk', 'white'].map((id) => shipped(id)),
      probes: this.probes,
      places: {
        rolesOf: (source) => this.places(bowl).rolesOf(source),
        assign: (source, channel, role) => this.places(bowl).assign(source, channel, role),
        isInRun: (source, channel) => this.places(bowl).isInRun(source, channel),
      },
      learnedOf: this.#learnedOf,
      wallNowMs: () => WALL_START_MS + this.#nowMs + this.wallSetByMs,
      newRunId: randomUUID,
    });
  }

  /** One reading, a second after the last thing that happened. */
  reads(valueC: number): void {
    this.#nowMs += 1000;
    this.session.feed({ atMs: this.#nowMs, source: 'test', kind: 'reading', valuesC: { chocolate: valueC } });
  }

  /** One line, as the thermometer sends it, `afterMs` after the last thing that happened. */
  hears(text: string, afterMs = 1000): void {
    this.#nowMs += afterMs;
    this.session.feed({ atMs: this.#nowMs, source: 'test', kind: 'line', text });
  }

  /** A reading a second, in even steps. */
  ramp(fromC: number, toC: number, seconds: number): void {
    for (let i = 1; i <= seconds; i++) this.reads(fromC + ((toC - fromC) * i) / seconds);
  }

  /** Time passes and nothing comes. */
  waits(seconds: number): void {
    for (let i = 0; i < seconds; i++) this.#tick(1000);
  }

  says(command: Command): CommandAnswer {
    return this.session.command(command);
  }

  choose(condition: 'solid' | 'melted' | 'tempered', profile: Profile = shipped('dark')): CommandAnswer {
    return this.says({ name: 'choose-profile', profile, condition });
  }

  /** A run of dark chocolate, going, in its first phase. */
  begin(): string {
    this.choose('solid');
    this.ramp(24, 30, 20);
    const { info } = this.session.status();
    if (info === null) throw new Error('no run began');
    return info.run;
  }

  /** A moment later; nothing is asked. */
  passes(seconds: number): void {
    this.#nowMs += seconds * 1000;
  }

  #tick(ms: number): void {
    this.#nowMs += ms;
    this.session.feed({ atMs: this.#nowMs, kind: 'tick' });
  }
}

/** A bowl on a store in a fresh folder, or in a given one. */
export function openBowl(folder: string = freshFolder(), startAtMs = 0, learnedOf?: LearnedOf): Bowl {
  return new Bowl(openedStore(folder), startAtMs, learnedOf);
}

export interface Kitchen {
  readonly bowl: Bowl;
  readonly http: Http;
  readonly live: Live;
  readonly epoch: string;
  readonly routes: readonly Route[];
  readonly guests: Doorkeeper['guests'];
  readonly router: Router;
}

/** The bowl with its door open. */
export async function openKitchen(
  timings: Partial<LiveTimings> = {},
  bowl: Bowl = openBowl(),
  thermometers: OpenThermometers = NO_PORTS,
  { guests, gate }: Doorkeeper = doorkeeper(),
  host = '127.0.0.1',
): Promise<Kitchen> {
  const { bench, ...onBench } = benchAround(bowl, thermometers);
  const { sessions } = onBench;
  const judging = judgingOf(bowl.store);
  const shelf = new Shelf([shipped('dark'), shipped('milk')], readOwn(bowl.store.folder));
  shelf.onChanged((profile) => bowl.session.profileChanged(profile));
  const backups = backupsOf(bowl, judging);
  const routes = allRoutes({
    judging,
    shelf,
    backups,
    ...onBench,
    store: bowl.store,
    notices: () => bowl.store.notices,
    guests,
    listensAt: () => ({ host, port: http.port }),
    wallNowMs: () => WALL_START_MS,
    newId: randomUUID,
  });
  const opened = await openHttp({
    listen: { host: '127.0.0.1', port: 0 },
    webFolder: pageFolder(),
    routes: async () => routes,
    gate,
    guests,
  });
  if (!opened.ok) throw new Error(opened.message);
  const { http } = opened;
  const epoch = randomUUID();
  const live = new Live({
    server: http.server,
    door: http.door,
    gate,
    epoch,
    clock: realClock,
    sessions,
    bowls: () => bench.now.bowls,
    timings,
  });
  onBench.shownBy(live);
  guests.onGone((guest) => live.dismiss(guest));
  onTestFinished(async () => {
    await live.close();
    await http.close();
  });
  return { bowl, http, live, epoch, routes, guests, router: onBench.router };
}

/** As the server wires them. */
export function backupsOf({ session, store }: Bowl, judging: Pick<Judging, 'going'>): Backups {
  const backups = new Backups({
    store,
    wallNowMs: () => WALL_START_MS,
    inUseBy: () => userOf(session.status().state === 'going', judging.going !== null),
    onRestored: () => session.forget(),
  });
  onTestFinished(() => backups.close());
  return backups;
}

/** Judges the runs of this store again; what is going when the test is over is broken off. */
export function judgingOf(store: Store, longestMs?: number): Judging {
  const labels = { wallNowMs: () => WALL_START_MS, newId: randomUUID };
  const judging = new Judging({
    store,
    script: BUILT_JUDGE,
    ...labels,
    ...(longestMs === undefined ? {} : { longestMs }),
  });
  onTestFinished(() => judging.close());
  return judging;
}

/** What sockets are timed by; the bowl's own clock stands still between readings. */
const realClock = { nowMs: (): number => Math.floor(performance.now()) };

/** A page as small as a page can be. */
function pageFolder(): string {
  const folder = freshFolder();
  mkdirSync(join(folder, 'assets'));
  writeFileSync(join(folder, 'index.html'), '<!doctype html><title>Bowlside</title>');
  writeFileSync(join(folder, 'assets', 'page-1a2b3c.js'), 'export {};');
  return folder;
}
