/**
 * The wiring: which source feeds which session, and who is told. Reads like the picture of the flow; decides nothing itself.
 *
 *   thermometer ─► session ─► store
 *   person ─► http ─┘     └─► live ─► pages
 *                         └─► bell, where no page sounds
 */
import { randomUUID } from 'node:crypto';
import { Backups, userOf } from './backups.ts';
import { Bell } from './bell.ts';
import { bellTrouble } from './bell/check.ts';
import { tendBin } from './bin.ts';
import { BellCommand } from './bell/command.ts';
import type { Ringer } from './bell/ringer.ts';
import { terminalBell } from './bell/terminal.ts';
import { clockAfterGap, feedClock } from './clock.ts';
import type { Config } from './config.ts';
import { type Flagged, readFlags } from './flags.ts';
import { openHttp } from './http.ts';
import { Judging } from './judging/judging.ts';
import { Live } from './live.ts';
import { allRoutes } from './routes.ts';
import { nightlyFor } from './nightly.ts';
import { installedPlaces, type Places } from './places.ts';
import { KnownPorts, speechOf } from './known-ports.ts';
import { KnownProbes } from './known-probes.ts';
import { Gate } from './pairing/gate.ts';
import { Guests } from './pairing/guests.ts';
import { invited } from './pairing/invited.ts';
import { learnedOf } from './core/engine.ts';
import type { LeftOut } from './profiles.ts';
import { Session } from './session.ts';
import { readSettings, rememberThermometer } from './settings.ts';
import { readOwn, Shelf } from './shelf.ts';
import { allPorts, findPort, knownAs, locatePort, thermometerId } from './source/ports.ts';
import { serialSource } from './source/serial.ts';
import { simulatedSource } from './source/simulated.ts';
import type { RunToResume } from './store/records.ts';
import { openStore, type Store } from './store/store.ts';
import { Thermometer, type Wanted } from './thermometer.ts';

/** The one bowl of this version. */
const BOWL = 'bowl-1';
/** A run that stopped longer ago than this is over, ms (design: resume). */
const RESUME_WITHIN_MS = 2 * 3_600_000;
/** How often the engine is asked whether a deadline has passed, ms (ours: the reaction time of somebody stirring). */
const TICK_MS = 250;
/** The same simulated bowl every time, so that one can be gone on with after a restart. */
const SIMULATED_SEED = 1;

export interface Running {
  /** The one address to open. */
  readonly address: string;
  /** What the person should know, a line each: what the store had to do, and how it stands with the thermometer. */
  readonly notices: readonly string[];
  /** Leaves nothing running; a run that is going can be gone on with. Safe to call twice. */
  readonly stop: () => Promise<void>;
}

/** `exit`: 2 where the arguments or a profile are wrong, 1 where the machine says no. */
export type Started =
  | { readonly ok: true; readonly server: Running }
  | { readonly ok: false; readonly exit: 1 | 2; readonly complaints: readonly string[] };

/** Everything up and serving, or all of it let go again and the reason why. */
export async function startServer(config: Config, places: Places = installedPlaces()): Promise<Started> {
  const own = readOwn(config.dataFolder);
  const flags = readFlags(
    config,
    places.profilesFolder,
    own.found.map(({ profile }) => profile),
  );
  if (!flags.ok) return { ok: false, exit: 2, complaints: flags.complaints };
  const opened = openStore(config.dataFolder, { writerScript: places.writerScript });
  if (!opened.ok) return { ok: false, exit: 1, complaints: [opened.message] };
  return serve(config, places, flags.flagged, new Shelf(flags.flagged.profiles, own), opened.store);
}

async function serve(
  config: Config,
  { webFolder, judgeScript }: Places,
  { choices }: Flagged,
  shelf: Shelf,
  store: Store,
): Promise<Started> {
  const names = await namesOf(config);
  const { folder } = store;
  const known = {
    probes: new KnownProbes({ folder, flagLagS: config.probeLagS, names }),
    ports: new KnownPorts(folder),
    names,
  };
  const { clock, session, thermometer, goOn } = bowlOf(config, choices, shelf, store, known);
  const { listen } = config;
  const sessions = new Map([[BOWL, session]]);
  const labels = { wallNowMs: Date.now, newId: randomUUID };
  const judging = new Judging({ store, script: judgeScript, ...labels });
  const backups = new Backups({
    store,
    wallNowMs: Date.now,
    inUseBy: () => userOf(session.status().state === 'going', judging.going !== null),
    onRestored: () => session.forget(),
  });
  const nightly = nightlyFor(backups, store, Date.now, console.error);
  const guests = new Guests({ folder: store.folder, nowMs: clock.nowMs, ...labels });
  const gate = new Gate(guests, clock.nowMs);
  const listensAt = () => at;
  const routes = allRoutes({ shelf, backups, sessions, store, judging, thermometer, guests, listensAt, ...labels });
  const web = await openHttp({ listen, webFolder, routes, gate, guests });
  if (!web.ok) {
    await store.close();
    return { ok: false, exit: 1, complaints: [web.message] };
  }
  const { http } = web;
  const at = { host: listen.host, port: http.port };
  const bell = new Bell({ session, clock, audible: () => live.audible(BOWL), ringers: ringersOf(config) });
  const isLeftAlone = (): boolean => bell.isLeftAlone;
  const trouble = config.bell && config.bellCommand !== null ? bellTrouble(config.bellCommand) : null;
  const { server, door } = http;
  const live = new Live({
    server,
    door,
    gate,
    epoch: randomUUID(),
    clock,
    sessions,
    isLeftAlone,
    bellTrouble: trouble,
  });
  guests.onGone((guest) => live.dismiss(guest));
  await thermometer.start();
  goOn(false);
  bell.start();
  const bin = tendBin(store, Date.now);
  nightly.start();
  const ticking = setInterval(() => session.feed({ kind: 'tick', atMs: clock.nowMs() }), TICK_MS);
  const stop = once(async () => {
    await thermometer.close();
    clearInterval(ticking);
    bin.close();
    bell.close();
    nightly.stop();
    await backups.close();
    await live.close();
    await http.close();
    judging.close();
    await store.close();
  });
  await firstAnswer(session);
  const notices = [
    ...store.notices,
    ...shelf.leftOut.map(leftOutNotice),
    ...(trouble === null ? [] : [trouble]),
    thermometerNotice(session, config),
    ...invited(guests, at),
  ];
  return { ok: true, server: { address: http.address, notices, stop } };
}

/** The bowl and what feeds it, going on where the server before this one stopped. */
function bowlOf(config: Config, choices: Flagged['choices'], shelf: Shelf, store: Store, known: Known) {
  const { probes } = known;
  const speech = speechOf(config, known);
  const found = store.runToResume(BOWL, Date.now(), RESUME_WITHIN_MS);
  const clock = feedClock(found === null ? 0 : clockAfterGap(found.lastAtMs, found.lastAtWall, Date.now()));
  const session = new Session({
    bowl: BOWL,
    clock,
    store,
    yardstick: choices.real.profile ?? shelf.profiles[0]!,
    profiles: () => shelf.profiles,
    probes,
    learnedOf,
    wallNowMs: Date.now,
    newRunId: randomUUID,
  });
  shelf.onChanged((profile) => session.profileChanged(profile));
  const goOn = goingOn(found, session, store);
  const thermometer = new Thermometer({
    wanted: wantedBy(config),
    remembered: readSettings(store.folder).thermometer,
    find: findPort,
    locate: locatePort,
    all: allPorts,
    remember: (identity) => rememberThermometer(store.folder, identity),
    serial: (where, locate) => serialSource({ ...where, ...speech.with(where), clock, locate }),
    rememberQuery: (where, query) => speech.rememberQuery(where, query),
    simulated: () => simulatedSource({ clock, seed: SIMULATED_SEED, ...simulatedBowl(found, choices) }),
    onSource: (source) => {
      goOn(source.simulated);
      session.use(source, source.simulated ? choices.simulated : choices.real);
    },
    onInput: (input) => session.feed(input),
    onLink: (state) => session.link(state),
  });
  return { clock, session, thermometer, goOn };
}

interface Known {
  readonly probes: KnownProbes;
  readonly ports: KnownPorts;
  /** Of a port named by hand: the name of what is plugged in there, by that of its path. */
  readonly names: Readonly<Record<string, string>>;
}

/** A port named by hand is known by what is plugged in there, so that it is the same thermometer whichever way it was found. */
async function namesOf({ port }: Config): Promise<Readonly<Record<string, string>>> {
  return port === null ? {} : { [thermometerId({ path: port })]: await knownAs({ path: port }) };
}

/** What rings at this machine while an alarm sounds on no screen. */
function ringersOf({ bell, bellCommand }: Config): readonly Ringer[] {
  if (!bell) return [];
  const terminal = terminalBell(process.stdout);
  return bellCommand === null ? [terminal] : [terminal, new BellCommand(bellCommand, console.error)];
}

function wantedBy({ simulate, port }: Config): Wanted {
  if (simulate) return { kind: 'simulated' };
  return port === null ? { kind: 'any' } : { kind: 'path', path: port };
}

/** A stored run goes on with the first source of its own kind, once; with another it is over. */
function goingOn(found: RunToResume | null, session: Session, store: Store): (simulated: boolean) => void {
  let waiting = found;
  return (simulated) => {
    if (waiting === null) return;
    if (waiting.run.simulated === simulated) session.resume(waiting);
    else store.endRun(waiting.run.run, waiting.lastAtMs);
    waiting = null;
  };
}

/** A simulated run that goes on has the bowl it had. */
function simulatedBowl(found: RunToResume | null, { simulated }: Flagged['choices']) {
  if (found?.run.simulated !== true) return { profile: simulated.profile };
  return { profile: found.run.header.profile, begunAtMs: found.run.startedAtMs };
}

/** How long the start waits to say how it stands with the thermometer, and how often it looks, milliseconds. Ours. */
const FIRST_ANSWER_MS = 1_500;
const LOOK_AGAIN_MS = 50;

/** Opening a port takes a moment; what comes of it is worth telling on the terminal. */
async function firstAnswer(session: Session): Promise<void> {
  for (let waitedMs = 0; waitedMs < FIRST_ANSWER_MS; waitedMs += LOOK_AGAIN_MS) {
    if (session.status().link.state !== 'looking') return;
    await new Promise((resolve) => setTimeout(resolve, LOOK_AGAIN_MS));
  }
}

function thermometerNotice(session: Session, { simulate }: Config): string {
  const { link } = session.status();
  switch (link.state) {
    case 'simulated':
      return simulate
        ? 'The bowl is simulated; no thermometer is read.'
        : 'No thermometer is plugged in: this is the simulated bowl. Plug one in at any time.';
    case 'up':
      return `Thermometer: ${link.label}.`;
    case 'looking':
    case 'down':
      return link.why;
  }
}

function leftOutNotice({ complaints }: LeftOut): string {
  return `One of your profiles was left out: ${complaints.join('; ')}.`;
}

function once(action: () => Promise<void>): () => Promise<void> {
  let done: Promise<void> | null = null;
  return () => (done ??= action());
}
