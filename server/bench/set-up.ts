/**
 * The bench set up: its bowls, its thermometers and the router between them, each bowl going on where the server before this one stopped.
 * Decides nothing itself.
 */
import { randomUUID } from 'node:crypto';
import { Bowls } from './bowls.ts';
import { clockAfterGap, feedClock } from '../clock.ts';
import type { Config } from '../config.ts';
import { learnedOf } from '../core/engine.ts';
import type { Flagged } from '../flags.ts';
import { KeptBench } from './kept-bench.ts';
import { type KnownPorts, speechOf } from '../known/known-ports.ts';
import type { KnownProbes } from '../known/known-probes.ts';
import { Placing } from './placing.ts';
import { Router } from './router.ts';
import { Session } from '../session/session.ts';
import { NO_CHOICE } from '../session/idle.ts';
import { readSettings, rememberBeside, rememberThermometer } from '../settings.ts';
import type { Shelf } from '../shelf.ts';
import { allPorts, findPort, locatePort, type PortIdentity, thermometerId } from '../source/ports.ts';
import { serialSource } from '../source/serial.ts';
import type { ListPorts } from '../source/serial-port.ts';
import { SIMULATED_SOURCE, simulatedSource } from '../source/simulated.ts';
import type { Source } from '../source/source.ts';
import { RESUME_WITHIN_MS, type RunToResume } from '../store/records.ts';
import type { Store } from '../store/store.ts';
import type { Wanted } from './thermometer.ts';
import { Thermometers } from './thermometers.ts';

/** The same simulated bowl every time, so that one can be gone on with after a restart; each other bowl another one. */
const SIMULATED_SEED = 1;

interface Known {
  readonly probes: KnownProbes;
  readonly ports: KnownPorts;
  /** Of a port named by hand: the name of what is plugged in there, by that of its path. */
  readonly names: Readonly<Record<string, string>>;
}

export interface SetUp {
  readonly config: Config;
  readonly choices: Flagged['choices'];
  readonly shelf: Shelf;
  readonly store: Store;
  readonly known: Known;
  readonly list: ListPorts;
}

export function setUp({ config, choices, shelf, store, known, list }: SetUp) {
  const { probes } = known;
  const speech = speechOf(config, known);
  const bench = new KeptBench(store.folder);
  const found = foundRuns(bench, store);
  const clock = feedClock(clockAfterAll([...found.values()]));
  const sessions = new Map<string, Session>();
  const goOn = goingOn(new Map(found), sessions, store);
  const router = new Router({
    clock,
    bench,
    sessions,
    nameOf: (source) => probes.nameOf(source),
    known: (source) => probes.of(source),
    choiceFor: (bowl, simulated) => {
      if (simulated) return choices.simulated;
      // What a flag says is said of the one bowl that a start without a bench has.
      return bowl === bench.now.bowls[0]!.bowl ? choices.real : NO_CHOICE;
    },
    onMain: goOn,
  });
  const placing = new Placing({ bench, router, sessions, probes });
  const bowls = new Bowls({ bench, sessions, session: newSession });
  const { thermometer, beside } = readSettings(store.folder);
  const thermometers = new Thermometers({
    router,
    wanted: wantedBy(config),
    remembered: thermometer,
    // One that was opened beside another is no stand-in for it.
    find: (remembered) => findPort(remembered, without(readSettings(store.folder).beside, list)),
    remember: (identity) => rememberThermometer(store.folder, identity),
    locate: (identity) => locatePort(identity, list),
    all: () => allPorts(list),
    serial: (where, locate) => serialSource({ ...where, ...speech.with(where), clock, locate }),
    rememberQuery: (where, query) => speech.rememberQuery(where, query),
    simulated,
    bowls: () => bench.now.bowls.map(({ bowl }) => bowl),
    beside,
    rememberBeside: (identities) => rememberBeside(store.folder, identities),
    nameOf: (source) => probes.nameOf(source),
  });
  // What is said of a thermometer in one bowl is known in the others that it serves.
  probes.onChanged(() => router.arrange());
  bench.onChanged(() => {
    router.arrange();
    thermometers.settle();
  });
  shelf.onChanged((profile) => {
    for (const session of sessions.values()) session.profileChanged(profile);
  });

  function newSession(bowl: string): Session {
    return new Session({
      bowl,
      name: () => bowls.nameOf(bowl),
      clock,
      store,
      yardstick: choices.real.profile ?? shelf.profiles[0]!,
      profiles: () => shelf.profiles,
      probes,
      places: placing.placesOf(bowl),
      learnedOf,
      wallNowMs: Date.now,
      newRunId: randomUUID,
    });
  }

  function simulated(bowl: string): Source {
    const number = Number(bowl.slice('bowl-'.length));
    const seed = SIMULATED_SEED + number - 1;
    const id = number === 1 ? SIMULATED_SOURCE : `${SIMULATED_SOURCE}-${number}`;
    return simulatedSource({ clock, id, seed, ...simulatedBowl(found.get(bowl) ?? null, choices) });
  }

  return { clock, bench, bowls, router, placing, thermometers, goOn };
}

/** The run of each bowl that was going when the server before this one stopped. */
function foundRuns(bench: KeptBench, store: Store): ReadonlyMap<string, RunToResume> {
  const found = new Map<string, RunToResume>();
  for (const { bowl } of bench.now.bowls) {
    const run = store.runToResume(bowl, Date.now(), RESUME_WITHIN_MS);
    if (run !== null) found.set(bowl, run);
  }
  return found;
}

/** All bowls have one clock, so that it stands where the run that was recorded last wants it. */
function clockAfterAll(runs: readonly RunToResume[]): number {
  return Math.max(0, ...runs.map(({ lastAtMs, lastAtWall }) => clockAfterGap(lastAtMs, lastAtWall, Date.now())));
}

/** A stored run goes on with the first source of its own kind, once; with another it is over. */
function goingOn(waiting: Map<string, RunToResume>, sessions: ReadonlyMap<string, Session>, store: Store) {
  return (bowl: string, simulated: boolean): void => {
    const found = waiting.get(bowl);
    if (found === undefined) return;
    waiting.delete(bowl);
    if (found.run.simulated === simulated) sessions.get(bowl)?.resume(found);
    else store.endRun(found.run.run, found.lastAtMs);
  };
}

/** A simulated run that goes on has the bowl it had. */
function simulatedBowl(found: RunToResume | null, { simulated }: Flagged['choices']) {
  if (found?.run.simulated !== true) return { profile: simulated.profile };
  return { profile: found.run.header.profile, begunAtMs: found.run.startedAtMs };
}

function wantedBy({ simulate, port }: Config): Wanted {
  if (simulate) return { kind: 'simulated' };
  return port === null ? { kind: 'any' } : { kind: 'path', path: port };
}

/** The list of ports as if these were not plugged in. */
function without(beside: readonly PortIdentity[], list: ListPorts): ListPorts {
  const names = new Set(beside.map((identity) => thermometerId({ identity })));
  return async () => {
    const listed = await list();
    if (!listed.ok || names.size === 0) return listed;
    const ports = listed.ports.filter(({ path, vendorId, productId, serialNumber, position }) => {
      if (vendorId === null || productId === null) return true;
      return !names.has(thermometerId({ identity: { vendorId, productId, serialNumber, position, path } }));
    });
    return { ok: true, ports };
  };
}
