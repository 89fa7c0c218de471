/**
 * What `bowlside ports` prints: which ports there are, what the thermometer says, what was understood, and what to do where something
 * is wrong. Opens a port only where a person named it, or where a start would open it by itself, and sends nothing.
 */
import type { HeardLine } from '../core/reading/heard.ts';
import type { LinkState } from '../core/show/wire.ts';
import { allPorts, type AllPorts, findPort, type FoundPort, type PortIdentity, type UsbPort } from './ports.ts';
import { listPorts, type ListPorts } from './serial-port.ts';
import { serialSource } from './serial.ts';
import { SEARCH_MS } from './speed.ts';

export interface ReportOptions {
  /** Ports named by hand: these are listened to, listed or not, and no others. */
  readonly paths?: readonly string[];
  /** Built-in and Bluetooth ports are shown too. */
  readonly all?: boolean;
  /** null, or absent: it is searched for. */
  readonly baud?: number | null;
  /** The device chosen before, or null. */
  readonly remembered?: PortIdentity | null;
  /** How long a port that says nothing, or nothing clear, is listened to, ms. */
  readonly listenMs?: number;
  /** Whoever finds out what a thermometer says; a new one for each. */
  readonly understanding: () => Understanding;
  readonly list?: ListPorts;
}

export interface Understanding {
  take(line: HeardLine): void;
  /** More lines would teach nothing. */
  readonly isSure: boolean;
  /** What a line is taken for by now. */
  words(line: HeardLine): string;
}

/** How long a port is listened to, ms: a thermometer that speaks once a second says the five whole lines that it takes to be sure (ours). */
const LISTEN_MS = 7000;

/** How many of the lines heard are shown, the last ones. */
const LINES_SHOWN = 3;

/** Lines of text for the terminal, as they become known. */
export async function* portsReport(options: ReportOptions): AsyncGenerator<string> {
  const { paths = [], list = listPorts, all = false } = options;
  const ports = await allPorts(list);
  const opened = paths.length > 0 ? paths : openedBySelf(await findPort(options.remembered ?? null, list));
  if (ports.usb.length === 0 && paths.length === 0) yield quiet(ports.why);
  for (const port of ports.usb) {
    yield quiet(describe(port));
    if (opened.includes(port.path)) yield* await heardAt(port.path, options);
  }
  for (const path of paths.filter((each) => ports.usb.every((port) => port.path !== each))) {
    yield path;
    yield* await heardAt(path, options);
  }
  if (all) yield* described(ports.others, paths);
  yield* whatNext(ports, opened, all);
}

/** The one a start would open; none of several, as opening one can restart a machine. */
function openedBySelf(found: FoundPort): readonly string[] {
  return found.kind === 'one' ? [found.path] : [];
}

function describe({ label, identity }: UsbPort): string {
  const serial = identity.serialNumber === null ? 'no serial number' : `serial number ${identity.serialNumber}`;
  return `${label}  (USB ${identity.vendorId}:${identity.productId}, ${serial})`;
}

function described(others: AllPorts['others'], named: readonly string[]): string[] {
  const rest = others.filter(({ path }) => !named.includes(path));
  if (rest.length === 0) return ['There are no built-in or Bluetooth ports.'];
  return rest.map(({ label }) => quiet(`${label}  (built in, or Bluetooth)`));
}

function whatNext({ usb, others }: AllPorts, opened: readonly string[], all: boolean): string[] {
  if (usb.length > 1 && opened.length === 0)
    return ['Opening a port can restart what is plugged in there. To hear one of them: npx bowlside ports PATH'];
  if (usb.length > 0 || opened.length > 0) return [];
  const hidden = others.length > 0 && !all ? ` Built-in and Bluetooth ports: npx bowlside ports --all` : '';
  return [`Any port can be named by hand: npx bowlside serve --port PATH.${hidden}`];
}

/** Listens as a start would, for a while: the words for what is wrong are the same. */
async function heardAt(path: string, options: ReportOptions): Promise<string[]> {
  const { listenMs = LISTEN_MS } = options;
  const understanding = options.understanding();
  const { lines, link } = await listened(path, listenMs, understanding, options);
  const speed = link.state === 'up' && link.baud !== undefined ? [`  speed       ${link.baud} baud`] : [];
  const said = lines.slice(-LINES_SHOWN).flatMap((line) => saidLines(line, understanding));
  const trouble = lines.length > 0 ? whyOf(link) : (whyOf(link) ?? silent(path, listenMs, options.baud ?? null));
  return [...speed, ...said, ...(trouble === null ? [] : sentences(trouble))];
}

/** What is wrong, be it open; null: nothing is known to be. */
function whyOf(link: LinkState): string | null {
  return link.state === 'simulated' ? null : (link.why ?? null);
}

/** `baud`: the speed that was named, or null. */
function silent(path: string, listenMs: number, baud: number | null): string {
  const seconds = listenMs / 1000;
  if (baud !== null) return `No line came in ${seconds} s at ${baud} baud. Is it switched on? Try it without --baud.`;
  return `Nothing came in ${seconds} s. Is it switched on? Some speak only when asked: npx bowlside serve --port ${path} --ask TEXT.`;
}

interface Listened {
  readonly lines: readonly HeardLine[];
  readonly link: LinkState;
}

function listened(
  path: string,
  listenMs: number,
  understanding: Understanding,
  { baud = null }: ReportOptions,
): Promise<Listened> {
  const startedMs = performance.now();
  const nowMs = (): number => Math.round(performance.now() - startedMs);
  const lines: HeardLine[] = [];
  let link: LinkState = { state: 'looking', why: '' };
  const source = serialSource({ path, clock: { nowMs }, ...(baud === null ? {} : { baud }) });
  return new Promise((resolve) => {
    const timer = setInterval(() => {
      if (!isEnough()) return;
      clearInterval(timer);
      void source.close().then(() => resolve({ lines, link }));
    }, LOOK_MS);
    source.start({
      input: (input) => {
        if (input.kind !== 'line') return;
        understanding.take(input);
        lines.push(input);
      },
      link: (state) => {
        link = state;
      },
    });
  });

  function isEnough(): boolean {
    if (link.state === 'down' || nowMs() >= SEARCH_MS + listenMs) return true;
    return link.state === 'up' && ((lines.length >= LINES_SHOWN && understanding.isSure) || nowMs() >= listenMs);
  }
}

/** How often it is looked whether enough was heard, ms. Ours. */
const LOOK_MS = 25;

/** A cause, and what to do, each on a line of its own. */
function sentences(why: string): string[] {
  return why.split(/(?<=[.?:]) (?=\p{Lu})/u).map((sentence) => `  ${sentence}`);
}

function saidLines(line: HeardLine, understanding: Understanding): string[] {
  return [`  says        ${quiet(readable(line.text))}`, `  understood  ${quiet(understanding.words(line))}`];
}

/** As UTF-8 where the bytes are, else one character per byte. */
function readable(line: string): string {
  const text = Buffer.from(line, 'latin1').toString('utf8');
  return text.includes('\ufffd') ? line : text;
}

/** A terminal must not obey what a thermometer says, nor what it calls itself. */
function quiet(text: string): string {
  return text.replace(/\p{Cc}/gu, '·');
}
