/**
 * Which serial ports are there, and which of them is the thermometer we know. A device is known by its USB identity, its path comes
 * last: paths move. Opens none of them.
 */
import { readdir, realpath } from 'node:fs/promises';
import { join } from 'node:path';
import { noPortTrouble } from './port-trouble.ts';
import { listPorts, type ListedPort, type ListPorts } from './serial-port.ts';
import { driverless } from './usb-devices.ts';

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
  /** Nobody may guess, be it one alone that could be another one of its kind: opening one can restart a machine. */
  | { readonly kind: 'several'; readonly ports: readonly UsbPort[] }
  | { readonly kind: 'none'; readonly why: string };

/**
 * The port to open by itself: the remembered device, else the only USB serial port there is.
 * Never rejects; a system that cannot list its ports has none, and `why` says so.
 */
export async function findPort(remembered: PortIdentity | null, list: ListPorts = listPorts): Promise<FoundPort> {
  const { ports, why } = await usbPorts(list);
  const kin = remembered === null ? [] : kinOf(ports, remembered);
  const known = remembered === null ? [] : certain(kin, remembered);
  if (known.length > 0) return chosen(known, why);
  return chosen(kin.length > 1 ? kin : ports, why);
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

/**
 * The remembered device alone, wherever it is now; never another one in its place. Without a serial number only its socket tells it from
 * its double, so that one of its kind in another socket is a question.
 */
export async function locatePort(identity: PortIdentity, list: ListPorts = listPorts): Promise<FoundPort> {
  const { ports } = await usbPorts(list);
  const kin = kinOf(ports, identity);
  const known = certain(kin, identity);
  if (known.length === 0 && kin.length > 0) return { kind: 'several', ports: kin };
  return chosen(known, NOT_PLUGGED_IN);
}

/** What is said of the thermometer that is looked for, where the list is there and it is not in it. */
export const NOT_PLUGGED_IN = 'The thermometer is not plugged in.';

function chosen(ports: readonly UsbPort[], whyNone: string): FoundPort {
  const [first, ...others] = ports;
  if (first === undefined) return { kind: 'none', why: whyNone };
  return others.length === 0 ? { kind: 'one', ...first } : { kind: 'several', ports };
}

function kinOf(ports: readonly UsbPort[], { vendorId, productId, serialNumber }: PortIdentity): readonly UsbPort[] {
  return ports.filter(
    ({ identity }) =>
      identity.vendorId === vendorId && identity.productId === productId && identity.serialNumber === serialNumber,
  );
}

/** Those of its kin that it surely is: by serial number, then socket, then path. More than one are ports of one device, or doubles in number too. */
function certain(kin: readonly UsbPort[], wanted: PortIdentity): readonly UsbPort[] {
  if (kin.length === 1 && wanted.serialNumber !== null) return kin;
  const sameSocket = kin.filter(({ identity }) => identity.position === wanted.position);
  if (wanted.position !== null && sameSocket.length < 2) return sameSocket;
  return sameSocket.filter(({ path }) => path === wanted.path);
}

/** Every port there is: those with a USB identity first, then those that are built in, or come over the air. */
export interface AllPorts {
  readonly usb: readonly UsbPort[];
  readonly others: readonly { readonly path: string; readonly label: string }[];
  /** What to say where there is none with a USB identity. */
  readonly why: string;
}

/** Never rejects. */
export async function allPorts(list: ListPorts = listPorts): Promise<AllPorts> {
  const { ports, others, why } = await usbPorts(list);
  return { usb: ports, others: others.map((port) => ({ path: port.path, label: labelOf(port) })), why };
}

interface UsbPorts {
  readonly ports: readonly UsbPort[];
  /** Those without a USB identity: built in, mostly without a plug, or Bluetooth. None of them is a thermometer somebody plugged in. */
  readonly others: readonly ListedPort[];
  /** What to say where there are none. */
  readonly why: string;
}

async function usbPorts(list: ListPorts): Promise<UsbPorts> {
  const listed = await list();
  if (!listed.ok) return { ports: [], others: [], why: listTrouble(listed.why) };
  const sockets = await socketsByPath(BY_PATH_FOLDER);
  const ports = listed.ports.flatMap((port) => usbPort(port, sockets));
  const others = listed.ports.filter(({ vendorId, productId }) => vendorId === null || productId === null);
  if (ports.length > 0) return { ports, others, why: '' };
  const { cause, action } = noPortTrouble(process.platform, await driverless());
  return { ports, others, why: `${cause} ${action}` };
}

/** Linux lists its ports through a program that small installations and containers lack. `why`: the library's words. */
function listTrouble(why: string): string {
  return /udevadm.*ENOENT/.test(why)
    ? 'The list of ports cannot be read: the program udevadm is not on this computer. Install it (on Debian the package is udev).'
    : `The list of ports cannot be read; the system says “${why}”.`;
}

function usbPort(port: ListedPort, sockets: ReadonlyMap<string, string>): UsbPort[] {
  const { path, vendorId, productId, serialNumber } = port;
  if (vendorId === null || productId === null) return [];
  const position = port.position ?? sockets.get(path) ?? null;
  return [{ path, label: labelOf(port), identity: { vendorId, productId, serialNumber, position, path } }];
}

function labelOf({ path, maker }: ListedPort): string {
  return maker === null ? path : `${maker.trim()}, ${path}`;
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
