/**
 * The wiring: which source feeds which session, and who is told. Reads like the picture of the flow; decides nothing itself.
 *
 *   thermometers ─► router ─► session of each bowl ─► store
 *   person ─► http ───────────┘                    └─► live ─► pages
 *                                                  └─► bell, where no page sounds
 */
import { randomUUID } from 'node:crypto';
import { Backups, userOf } from './backups/backups.ts';
import { Bell } from './bell/bell.ts';
import { Bells } from './bench/bowls.ts';
import { bellTrouble } from './bell/check.ts';
import { tendBin } from './bin.ts';
import { BellCommand } from './bell/command.ts';
import type { Ringer } from './bell/ringer.ts';
import { terminalBell } from './bell/terminal.ts';
import type { Config } from './config.ts';
import { type Flagged, readFlags } from './flags.ts';
import { openHttp } from './http.ts';
import { Judging } from './judging/judging.ts';
import { Live } from './live.ts';
import { nightlyFor } from './backups/nightly.ts';
import { installedPlaces, type Places } from './places.ts';
import { KnownPorts } from './known/known-ports.ts';
import { KnownProbes } from './known/known-probes.ts';
import { Gate } from './pairing/gate.ts';
import { Guests } from './pairing/guests.ts';
import { invited } from './pairing/invited.ts';
import type { LeftOut } from './profiles.ts';
import type { Session } from './session/session.ts';
import { setUp } from './bench/set-up.ts';
import { readOwn, Shelf } from './shelf.ts';
import { knownAs, thermometerId } from './source/ports.ts';
import { listPorts, type ListPorts } from './source/serial-port.ts';
import { madeUpFor } from './store/put-off.ts';
import { dataFileIn, openStore, type Store } from './store/store.ts';

/** How often the engine is asked whether a deadline has passed, ms (ours: the reaction time of somebody stirring). */
const TICK_MS = 250;

/** What answers questions is loaded so long after the start, or by the first question: a run goes on before, ms (ours: a few readings). */
const PREPARE_AFTER_MS = 2_000;

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

/** Everything up and serving, or all of it let go again and the reason why. `list`: how the system tells what is plugged in. */
export async function startServer(
  config: Config,
  places: Places = installedPlaces(),
  list: ListPorts = listPorts,
): Promise<Started> {
  const own = readOwn(config.dataFolder);
  const flags = readFlags(
    config,
    places.profilesFolder,
    own.found.map(({ profile }) => profile),
  );
  if (!flags.ok) return { ok: false, exit: 2, complaints: flags.complaints };
  // The system is asked while the store is opened.
  const names = namesOf(config, list);
  const opened = openStore(config.dataFolder, { writerScript: places.writerScript });
  if (!opened.ok) return { ok: false, exit: 1, complaints: [opened.message] };
  const shelf = new Shelf(flags.flagged.profiles, own);
  return serve(config, places, flags.flagged, shelf, opened.store, await names, list);
}

async function serve(
  config: Config,
  { webFolder, writerScript, judgeScript }: Places,
  { choices }: Flagged,
  shelf: Shelf,
  store: Store,
  names: Readonly<Record<string, string>>,
  list: ListPorts,
): Promise<Started> {
  const { folder } = store;
  const known = {
    probes: new KnownProbes({ folder, flagLagS: config.probeLagS, names }),
    ports: new KnownPorts(folder),
    names,
  };
  const { clock, bench, bowls, router, placing, thermometers, goOn } = setUp({
    config,
    choices,
    shelf,
    store,
    known,
    list,
  });
  const { listen } = config;
  const { sessions } = bowls;
  const foundLate: string[] = [];
  const notices = (): readonly string[] => [...store.notices, ...foundLate];
  const labels = { wallNowMs: Date.now, newId: randomUUID };
  const judging = new Judging({ store, script: judgeScript, ...labels });
  const backups = new Backups({
    store,
    wallNowMs: Date.now,
    inUseBy: () => userOf(bowls.isAnyGoing, judging.going !== null),
    onRestored: () => {
      for (const session of sessions.values()) session.forget();
    },
  });
  const nightly = nightlyFor(backups, store, Date.now, console.error);
  const nowMs = (): number => clock.nowMs();
  const guests = new Guests({ folder: store.folder, nowMs, ...labels });
  const gate = new Gate(guests, nowMs);
  const listensAt = () => at;
  const onBench = { sessions, bowls, router, placing, thermometers };
  const routes = async () => {
    const { allRoutes } = await import('./routes/routes.ts');
    return allRoutes({ shelf, backups, notices, store, judging, guests, listensAt, ...onBench, ...labels });
  };
  const web = await openHttp({ listen, webFolder, routes, gate, guests });
  if (!web.ok) {
    await store.close();
    return { ok: false, exit: 1, complaints: [web.message] };
  }
  const { http } = web;
  const at = { host: listen.host, port: http.port };
  const bells = new Bells((session) => bellOf(session));
  const trouble = config.bell && config.bellCommand !== null ? bellTrouble(config.bellCommand) : null;
  const { server, door } = http;
  const live = new Live({
    server,
    door,
    gate,
    epoch: randomUUID(),
    clock,
    sessions,
    bowls: () => bench.now.bowls,
    isLeftAlone: (bowl) => bells.isLeftAlone(bowl),
    bellTrouble: trouble,
  });
  guests.onGone((guest) => live.dismiss(guest));
  router.onFed((session) => live.showNow(session));
  await thermometers.start();
  for (const bowl of sessions.keys()) goOn(bowl, false);
  for (const session of sessions.values()) bells.start(session);
  bowls.follow({
    came: (session) => {
      live.join(session);
      bells.start(session);
    },
    went: (session) => {
      live.leave(session);
      bells.stop(session.bowl);
    },
  });
  bench.onChanged(() => live.tellBowls());
  const bin = tendBin(store, Date.now);
  const checking = madeUpFor(dataFileIn(folder), new URL('copy-process.js', writerScript), (words) => {
    foundLate.push(words);
    console.error(words);
  });
  nightly.start();
  const ticking = setInterval(() => {
    for (const session of sessions.values()) session.feed({ kind: 'tick', atMs: clock.nowMs() });
  }, TICK_MS);
  const stop = once(async () => {
    await thermometers.close();
    clearInterval(ticking);
    clearTimeout(preparing);
    bin.close();
    checking.stop();
    bells.close();
    nightly.stop();
    await backups.close();
    await live.close();
    await http.close();
    judging.close();
    await store.close();
  });
  const preparing = setTimeout(() => void http.prepare(), PREPARE_AFTER_MS);
  // Whoever comes back to a run is kept waiting by nothing.
  if (!bowls.isAnyGoing) await firstAnswer(bowls.first);
  const said = [
    ...notices(),
    ...shelf.leftOut.map(leftOutNotice),
    ...(trouble === null ? [] : [trouble]),
    thermometerNotice(bowls.first, config),
    ...invited(guests, at),
  ];
  return { ok: true, server: { address: http.address, notices: said, stop } };

  function bellOf(session: Session): Bell {
    const { bowl } = session;
    const name = (): string | null => bowls.nameOf(bowl);
    return new Bell({ session, clock, audible: () => live.audible(bowl), name, ringers: ringersOf(config) });
  }
}

/** A port named by hand is known by what is plugged in there, so that it is the same thermometer whichever way it was found. */
async function namesOf({ port }: Config, list: ListPorts): Promise<Readonly<Record<string, string>>> {
  return port === null ? {} : { [thermometerId({ path: port })]: await knownAs({ path: port }, list) };
}

/** What rings at this machine while an alarm sounds on no screen. */
function ringersOf({ bell, bellCommand }: Config): readonly Ringer[] {
  if (!bell) return [];
  const terminal = terminalBell(process.stdout);
  return bellCommand === null ? [terminal] : [terminal, new BellCommand(bellCommand, console.error)];
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
