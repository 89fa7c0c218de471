/** Unplugged at random instants under a hundred lines a second: each is one transition, seen soon, and leaves nothing behind. */
import { readdirSync } from 'node:fs';
import { setTimeout as wait } from 'node:timers/promises';
import { queryObjects } from 'node:v8';
import { SerialPort } from 'serialport';
import { chance, type Chance } from '../../server/source/kitchen/chance.ts';
import { serialSource, type SerialOptions } from '../../server/source/serial.ts';
import { percentile } from '../bench/figures.ts';
import { PtyWire } from '../support/fake/pty-wire.ts';
import { VirtualTime } from '../support/fake/virtual-time.ts';
import { VirtualWire } from '../support/fake/virtual-wire.ts';
import { NO_OTHERS, type Wire } from '../support/fake/wire.ts';
import { brokenRows, within, type Bounds, type Row } from './rows.ts';

const LINE_EVERY_MS = 10;
/** Promised (L4), ms. */
const SEEN_MS = 3_000;
/** How long it is waited for, ms of the clock in use. */
const PATIENCE_MS = 30_000;
/** Thermometers side by side on pseudo-terminals. */
const SIDE_BY_SIDE = 10;
/** Pulled out and let be, a process that does more than this of a core is spinning. */
const SPINNING_SHARE = 0.25;

/** One thermometer that is read, and its links in their order. */
interface Watched {
  readonly turns: boolean[];
  readonly lines: string[];
  readonly close: () => Promise<void>;
}

function watch(wire: Wire, clock: { nowMs(): number }, more: Partial<SerialOptions> = {}): Watched {
  const [turns, lines]: [boolean[], string[]] = [[], []];
  const source = serialSource({ identity: wire.identity, clock, list: wire.list, ...more });
  source.start({
    input: (input) => {
      if (input.kind === 'link') turns.push(input.up);
      if (input.kind === 'line') lines.push(input.text);
    },
    link: () => {},
  });
  return { turns, lines, close: () => source.close() };
}

/** What both kinds of wire have in common: time that passes, and the machine's own or one moved by hand. */
interface Time {
  nowMs(): number;
  pass(ms: number): Promise<void>;
  until(holds: () => boolean, mostMs: number): Promise<boolean>;
}

interface Tallied {
  readonly seenMs: number[];
  /** Cycles with anything but one link down and one up. */
  strange: number;
}

/** Plugged in and read for a while, pulled at a random instant of a line, and plugged in again somewhere. */
async function cycle(wire: Wire, watched: Watched, time: Time, luck: Chance, tallied: Tallied): Promise<void> {
  const turnsBefore = watched.turns.length;
  await time.pass(luck.between(150, 900));
  await wire.obey({ atMs: 0, kind: 'say', device: 'own', bytes: '31.52\r\n'.slice(0, luck.between(0, 8)) });
  const pulledMs = time.nowMs();
  await wire.obey({ atMs: 0, kind: 'unplug', device: 'own', inRead: luck.happens(0.5) });
  await time.until(() => watched.turns.length > turnsBefore, PATIENCE_MS);
  tallied.seenMs.push(time.nowMs() - pulledMs);
  await time.pass(luck.between(0, 1500));
  await wire.obey({ atMs: 0, kind: 'plug', device: 'own', socket: 1, path: Math.floor(luck.between(0, 2)) });
  await time.until(() => watched.turns.at(-1) === true, PATIENCE_MS);
  const turns = watched.turns.slice(turnsBefore);
  if (turns.length !== 2 || turns[0] !== false) tallied.strange++;
}

function rowsOf(cycles: number, { seenMs, strange }: Tallied, isVirtual: boolean): Row[] {
  const timing = isVirtual ? {} : ({ timing: true } as const);
  return [
    { name: 'unplugs', unit: '', value: cycles },
    { name: 'with anything but one link down and one up', unit: '', value: strange, most: 0 },
    { name: 'seen after, median', unit: 's', value: percentile(seenMs, 0.5) / 1000, ...timing },
    {
      name: 'seen after, 99th percentile',
      unit: 's',
      value: percentile(seenMs, 0.99) / 1000,
      most: SEEN_MS / 1000,
      ...timing,
    },
    { name: 'seen after, longest', unit: 's', value: Math.max(...seenMs) / 1000, ...timing },
  ];
}

/** What must not grow: descriptors, ports that are not let go (with all that listens to them), and what keeps the loop alive. */
function held(): { readonly descriptors: number; readonly ports: number; readonly resources: number } {
  return {
    descriptors: readdirSync('/dev/fd').length,
    ports: queryObjects(SerialPort, { format: 'count' }),
    resources: process.getActiveResourcesInfo().length,
  };
}

/** What else the process was busy with is given time to be over. */
async function growthRows(before: ReturnType<typeof held>): Promise<Row[]> {
  const rows = (): Row[] => {
    const after = held();
    return [
      { name: 'descriptors more than before', unit: '', value: after.descriptors - before.descriptors, most: 0 },
      // One may be held by what ran last.
      { name: 'port objects more than before', unit: '', value: after.ports - before.ports, most: 2 },
      { name: 'resources of the loop more than before', unit: '', value: after.resources - before.resources, most: 0 },
    ];
  };
  await MACHINE.until(() => brokenRows(rows()).length === 0, PATIENCE_MS);
  return rows();
}

/** On the virtual port, by a clock moved by hand. */
export async function virtualUnplugs(bounds: Bounds): Promise<Row[]> {
  const luck = chance(bounds.seed);
  const tallied: Tallied = { seenMs: [], strange: 0 };
  const [time, wire, before] = [new VirtualTime(), new VirtualWire(), held()];
  let [cycles, waiting] = [0, 0];
  time.install();
  try {
    await wire.obey({ atMs: 0, kind: 'plug', device: 'own', socket: 1, path: 0 });
    const watched = watch(wire, time, { othersAt: NO_OTHERS });
    const speaking = speaksOn(wire);
    const hands: Time = {
      nowMs: () => time.nowMs(),
      pass: (ms) => time.run(time.nowMs() + ms),
      until: (holds, mostMs) => time.runUntil(holds, mostMs),
    };
    await hands.until(() => watched.turns.length > 0, PATIENCE_MS);
    for (const _ of within(bounds)) {
      await cycle(wire, watched, hands, luck, tallied);
      watched.lines.length = 0;
      cycles++;
    }
    clearInterval(speaking);
    const closing = watched.close();
    await time.run(time.nowMs() + 5_000);
    await closing;
    waiting = time.waiting;
  } finally {
    time.remove();
    await wire.close();
  }
  const timers: Row = { name: 'timers left when it is closed', unit: '', value: waiting, most: 0 };
  return [...rowsOf(cycles, tallied, true), timers, ...(await growthRows(before))];
}

/** On pseudo-terminals, some side by side. */
export async function realUnplugs(bounds: Bounds): Promise<Row[]> {
  const before = held();
  const tallied: Tallied = { seenMs: [], strange: 0 };
  const turn = within(bounds);
  let cycles = 0;
  const one = async (lane: number): Promise<void> => {
    const [wire, luck] = [new PtyWire(), chance(bounds.seed + lane)];
    await wire.obey({ atMs: 0, kind: 'plug', device: 'own', socket: 1, path: 0 });
    const watched = watch(wire, MACHINE);
    const speaking = speaksOn(wire);
    await MACHINE.until(() => watched.turns.length > 0, PATIENCE_MS);
    while (turn.next().done !== true) {
      await cycle(wire, watched, MACHINE, luck, tallied);
      cycles++;
    }
    clearInterval(speaking);
    await watched.close();
    await wire.close();
  };
  await Promise.all(Array.from({ length: Math.min(SIDE_BY_SIDE, bounds.count) }, (_, lane) => one(lane)));
  const share = await coreShareUnplugged();
  const spinning: Row = {
    name: 'of a core while one is out',
    unit: '',
    value: share,
    most: SPINNING_SHARE,
    timing: true,
  };
  return [...rowsOf(cycles, tallied, false), spinning, ...(await growthRows(before))];
}

function speaksOn(wire: Wire): NodeJS.Timeout {
  let n = 0;
  return setInterval(() => {
    void wire.obey({ atMs: 0, kind: 'say', device: 'own', bytes: `${(31.5 + (n++ % 9) / 100).toFixed(2)}\r\n` });
  }, LINE_EVERY_MS);
}

/** How much of a core this process takes over two seconds, once one pulled in mid-read has been seen. */
async function coreShareUnplugged(): Promise<number> {
  const wire = new PtyWire();
  await wire.obey({ atMs: 0, kind: 'plug', device: 'own', socket: 1, path: 0 });
  const watched = watch(wire, MACHINE);
  await MACHINE.until(() => watched.turns.length > 0, PATIENCE_MS);
  await wire.obey({ atMs: 0, kind: 'unplug', device: 'own', inRead: true });
  await MACHINE.until(() => watched.turns.length > 1, PATIENCE_MS);
  const [used, sinceMs] = [process.cpuUsage(), MACHINE.nowMs()];
  await wait(2_000);
  const { user, system } = process.cpuUsage(used);
  const share = (user + system) / 1000 / (MACHINE.nowMs() - sinceMs);
  await watched.close();
  await wire.close();
  return share;
}

const MACHINE: Time = {
  nowMs: () => Math.round(performance.now()),
  pass: (ms) => wait(ms),
  async until(holds, mostMs) {
    const lastMs = performance.now() + mostMs;
    while (!holds() && performance.now() < lastMs) await wait(5);
    return holds();
  },
};
