/**
 * Which serial ports are there, which of them is the thermometer we know, and what each of them says.
 * A device is known by its USB identity, its path comes last: paths move. Knows nothing of readings.
 */
import { readdir, realpath } from 'node:fs/promises';
import { join } from 'node:path';
import { explainTrouble } from './port-trouble.ts';
import { listPorts, openPort, type ListedPort, type ListPorts } from './serial-port.ts';

/** Speed tried when nobody names one, baud: what most boards and bench thermometers are set to when new (ours). */
export const USUAL_BAUD = 9600;

/** What a device is remembered by. Many cheap USB bridges have no serial number: then the socket it stands in decides. */
export interface PortIdentity {
  readonly vendorId: string;
  readonly productId: string;
  readonly serialNumber: string | null;
  /** USB socket, in the system's words. */
  readonly position: string | null;
  readonly path: string;
}

export interface UsbPort {
  readonly path: string;
  readonly identity: PortIdentity;
  /** For people: maker and path. */
  readonly label: string;
}

export type FoundPort =
  | ({ readonly kind: 'one' } & UsbPort)
  /** Nobody may guess among them: opening one can restart a machine. */
  | { readonly kind: 'several'; readonly ports: readonly UsbPort[] }
  | { readonly kind: 'none'; readonly why: string };

/**
 * The port to open by itself: the remembered device, else the only USB serial port there is.
 * Never rejects; a system that cannot list its ports has none, and `why` says so.
 */
export async function findPort(remembered: PortIdentity | null, list: ListPorts = listPorts): Promise<FoundPort> {
  const { ports, why } = await usbPorts(list);
  const known = remembered === null ? [] : matching(ports, remembered);
  return chosen(known.length > 0 ? known : ports, why);
}

/**
 * The name of a thermometer: its lines carry it, and what is known of it is kept under it. Without a serial number the socket
 * is the name, so that the same device in another socket is another thermometer.
 */
export function thermometerId(where: { readonly path: string } | { readonly identity: PortIdentity }): string {
  if (!('identity' in where)) return `serial:${where.path}`;
  const { vendorId, productId, serialNumber, position, path } = where.identity;
  return `usb:${vendorId}:${productId}:${serialNumber ?? position ?? path}`;
}

/** The same name for a thermometer that was found and for one whose port was named by hand, symbolic links followed. Never rejects. */
export async function knownAs(
  where: { readonly path: string } | { readonly identity: PortIdentity },
  list: ListPorts = listPorts,
): Promise<string> {
  if ('identity' in where) return thermometerId(where);
  const target = await realpath(where.path).catch(() => where.path);
  const { ports } = await usbPorts(list);
  return thermometerId(ports.find(({ path }) => path === where.path || path === target) ?? where);
}

/** The remembered device alone, wherever it is now; never another one in its place. */
export async function locatePort(identity: PortIdentity, list: ListPorts = listPorts): Promise<FoundPort> {
  const { ports } = await usbPorts(list);
  return chosen(matching(ports, identity), 'The thermometer is not plugged in.');
}

function chosen(ports: readonly UsbPort[], whyNone: string): FoundPort {
  const [first, ...others] = ports;
  if (first === undefined) return { kind: 'none', why: whyNone };
  return others.length === 0 ? { kind: 'one', ...first } : { kind: 'several', ports };
}

/** Narrowed by serial number, then socket, then path, as far as each is known and leaves somebody. */
function matching(ports: readonly UsbPort[], wanted: PortIdentity): readonly UsbPort[] {
  const kin = ports.filter(
    ({ identity }) =>
      identity.vendorId === wanted.vendorId &&
      identity.productId === wanted.productId &&
      identity.serialNumber === wanted.serialNumber,
  );
  if (kin.length < 2) return kin;
  const sameSocket = kin.filter(({ identity }) => wanted.position !== null && identity.position === wanted.position);
  if (sameSocket.length > 0) return sameSocket;
  const samePath = kin.filter(({ path, identity }) => identity.position === null && path === wanted.path);
  return samePath.length > 0 ? samePath : kin;
}

/** What to say where the list is there and has none. */
export const NO_PORT = 'No USB serial port is plugged in.';

interface UsbPorts {
  readonly ports: readonly UsbPort[];
  /** What to say where there are none. */
  readonly why: string;
}

async function usbPorts(list: ListPorts): Promise<UsbPorts> {
  const listed = await list();
  if (!listed.ok) return { ports: [], why: listTrouble(listed.why) };
  const sockets = await socketsByPath(BY_PATH_FOLDER);
  const ports = listed.ports.flatMap((port) => usbPort(port, sockets));
  return { ports, why: NO_PORT };
}

/** Linux lists its ports through a program that small installations and containers lack. `why`: the library's words. */
function listTrouble(why: string): string {
  return /udevadm.*ENOENT/.test(why)
    ? 'The list of ports cannot be read: the program udevadm is not on this computer. Install it (on Debian the package is udev).'
    : `The list of ports cannot be read; the system says “${why}”.`;
}

/** Ports without a USB identity are built in, mostly without a plug: none of them is a thermometer somebody plugged in. */
function usbPort(port: ListedPort, sockets: ReadonlyMap<string, string>): UsbPort[] {
  const { path, vendorId, productId, serialNumber } = port;
  if (vendorId === null || productId === null) return [];
  const position = port.position ?? sockets.get(path) ?? null;
  const label = port.maker === null ? path : `${port.maker.trim()}, ${path}`;
  return [{ path, label, identity: { vendorId, productId, serialNumber, position, path } }];
}

/** Where Linux names each port by the socket it is plugged into; elsewhere there is no such folder. */
const BY_PATH_FOLDER = '/dev/serial/by-path';

/** From a port's path to the name of its socket; empty where the system keeps no such folder. */
export async function socketsByPath(folder: string): Promise<ReadonlyMap<string, string>> {
  const names = await readdir(folder).catch((): string[] => []);
  const sockets = new Map<string, string>();
  // Sorted, as one socket can have two names: the first one is the same at every start.
  for (const name of names.toSorted()) {
    const path = await realpath(join(folder, name)).catch(() => null);
    if (path !== null && !sockets.has(path)) sockets.set(path, name);
  }
  return sockets;
}

export interface ReportOptions {
  /** How long to listen to each port, ms; null opens none, as opening can restart a board. */
  readonly listenMs: number | null;
  readonly baud?: number;
  /** Ports named by hand; they are listened to as well, listed or not. */
  readonly paths?: readonly string[];
  /** What a line was taken for, in words. */
  readonly understand: (line: string) => string;
  readonly list?: ListPorts;
}

/** How long `bowlside ports` listens to each port, ms: a thermometer that speaks once a second says two whole lines (ours). */
export const LISTEN_MS = 3000;

/** How many of the lines heard are shown, the last ones. */
const LINES_SHOWN = 3;

/** Lines of text for the terminal: what is plugged in, what it says, what was understood, and what to do if it can't be opened. */
export async function portsReport(options: ReportOptions): Promise<string[]> {
  const { ports, why } = await usbPorts(options.list ?? listPorts);
  const byHand = (options.paths ?? []).filter((path) => !ports.some((port) => port.path === path));
  const report: string[] = [];
  if (ports.length === 0) report.push(why);
  for (const port of ports) report.push(describe(port), ...(await heardAt(port.path, options)));
  for (const path of byHand) report.push(path, ...(await heardAt(path, options)));
  if (report.length === 1 && ports.length === 0)
    report.push('Any port can be named by hand: bowlside serve --port PATH.');
  return report;
}

function describe({ label, identity }: UsbPort): string {
  const serial = identity.serialNumber === null ? 'no serial number' : `serial number ${identity.serialNumber}`;
  return `${label}  (USB ${identity.vendorId}:${identity.productId}, ${serial})`;
}

async function heardAt(path: string, options: ReportOptions): Promise<string[]> {
  if (options.listenMs === null) return [];
  const baud = options.baud ?? USUAL_BAUD;
  const heard = await listen(path, baud, options.listenMs);
  if (!heard.ok) return [`  ${heard.cause}`, `  ${heard.action}`];
  if (heard.lines.length > 0) return heard.lines.slice(-LINES_SHOWN).flatMap((line) => said(line, options.understand));
  const seconds = options.listenMs / 1000;
  if (heard.bytes) return [`  Something came in ${seconds} s at ${baud} baud, but no whole line: try another --baud.`];
  return [`  Nothing came in ${seconds} s at ${baud} baud. Is it switched on? Try another --baud.`];
}

function said(line: string, understand: ReportOptions['understand']): string[] {
  return [`  says        ${quiet(readable(line))}`, `  understood  ${quiet(understand(line))}`];
}

/** As UTF-8 where the bytes are, else one character per byte. */
function readable(line: string): string {
  const text = Buffer.from(line, 'latin1').toString('utf8');
  return text.includes('\ufffd') ? line : text;
}

/** A terminal must not obey what a thermometer says. */
function quiet(text: string): string {
  return text.replace(/\p{Cc}/gu, '·');
}

type Heard =
  | { readonly ok: true; readonly bytes: boolean; readonly lines: readonly string[] }
  | { readonly ok: false; readonly cause: string; readonly action: string };

async function listen(path: string, baud: number, listenMs: number): Promise<Heard> {
  const lines: string[] = [];
  let bytes = false;
  let stop = (): void => {};
  const over = new Promise<void>((resolve) => {
    stop = resolve;
  });
  const opened = await openPort(path, baud, {
    bytes: () => {
      bytes = true;
    },
    line: (text, whole) => {
      if (whole) lines.push(text);
    },
    gone: stop,
  });
  if (!opened.ok) return { ok: false, ...explainTrouble(opened.message, path) };
  const timer = setTimeout(stop, listenMs);
  await over;
  clearTimeout(timer);
  await opened.port.close();
  return { ok: true, bytes, lines };
}
