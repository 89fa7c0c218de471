/**
 * The one door to the serial library and its readline parser: lists ports, opens one, hands on its lines, changes its speed, sends what
 * it is given, tells once when it is gone. Knows nothing of reconnecting, of silence or of what a line says.
 */
import { ReadlineParser } from '@serialport/parser-readline';
import type { SerialPort } from 'serialport';
import { LineReader } from './line-reader.ts';
import { notLoaded } from './port-trouble.ts';
import { listFromSysfs } from './sysfs-list.ts';

/** A serial port as the operating system lists it. */
export interface ListedPort {
  readonly path: string;
  readonly vendorId: string | null;
  readonly productId: string | null;
  readonly serialNumber: string | null;
  /** Where it is plugged in, in the system's own words; null where it does not say. */
  readonly position: string | null;
  readonly maker: string | null;
}

export type PortList =
  { readonly ok: true; readonly ports: readonly ListedPort[] } | { readonly ok: false; readonly why: string };

export type ListPorts = () => Promise<PortList>;

export interface PortListener {
  /** Bytes came, whether or not they make up a line yet; told of before the line they complete. */
  bytes(chunk: Uint8Array): void;
  /** One character per byte, U+0000–U+00FF, no terminator. `whole` is false for the first after opening or a change of speed: it may be a tail. */
  line(text: string, whole: boolean): void;
  /** The port is lost, however that showed. Told once, and never after `close`; the port still has to be closed. */
  gone(): void;
}

export interface OpenPort {
  /** Another speed on the same opening, baud: nothing is closed, so that no board restarts. False where the port will not run at it. */
  setBaud(baud: number): Promise<boolean>;
  /** One byte per character, U+0000–U+00FF. False where it did not go out. */
  send(text: string): Promise<boolean>;
  /** Gives the port back to the system; resolves when that is done. Safe to call twice and on a port that is gone. */
  close(): Promise<void>;
}

/** `message`: the library's own words; port-trouble.ts makes them plain. */
export type Opened = { readonly ok: true; readonly port: OpenPort } | { readonly ok: false; readonly message: string };

export type OpenPortAt = (path: string, baud: number, listener: PortListener) => Promise<Opened>;

type Library = typeof import('serialport');

let library: Promise<Library> | null = null;

/** Loaded when it is first needed, as it takes as long as our own half of a start: what is simulated or replayed has no port. Rejects where it cannot be, in words of ours. */
function loaded(): Promise<Library> {
  library ??= import('serialport').catch((error: unknown) => {
    library = null;
    throw new Error(notLoaded(messageOf(error)), { cause: error });
  });
  return library;
}

function messageOf(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}

/** Every port the system lists, those without a USB identity too. Never rejects: where listing is impossible, it says why. */
export async function listPorts(): Promise<PortList> {
  try {
    const { SerialPort: Ports } = await loaded();
    return { ok: true, ports: (await Ports.list()).map(listedPort) };
  } catch (error) {
    const why = messageOf(error);
    // On Linux the library asks a program that small installations and containers lack.
    const found = process.platform === 'linux' ? await listFromSysfs().catch(() => null) : null;
    return found === null ? { ok: false, why } : { ok: true, ports: found.map(listedPort) };
  }
}

type LibraryPort = Awaited<ReturnType<typeof SerialPort.list>>[number];

/**
 * Where a device has no serial number, Windows makes up a name from its socket and the library takes that for one: it holds an
 * ampersand, which Windows lets in no serial number (Microsoft, “Instance IDs”).
 */
export function listedPort(port: LibraryPort): ListedPort {
  const serialNumber = port.serialNumber || null;
  const isMadeUp = serialNumber?.includes('&') === true;
  return {
    path: callOutPath(port.path),
    vendorId: port.vendorId?.toLowerCase() || null,
    productId: port.productId?.toLowerCase() || null,
    serialNumber: isMadeUp ? null : serialNumber,
    position: port.locationId || (isMadeUp ? serialNumber : null),
    maker: port.manufacturer || null,
  };
}

/** macOS gives a port two names; opening the `tty` one may wait for a carrier that never comes. */
export function callOutPath(path: string): string {
  return path.replace(/^\/dev\/tty\./, '/dev/cu.');
}

/** Opens the port: 8 data bits, no parity, one stop bit, no flow control, locked against others who ask. */
export async function openPort(path: string, baud: number, listener: PortListener): Promise<Opened> {
  let port: SerialPort;
  try {
    const { SerialPort: Port } = await loaded();
    port = new Port({ path, baudRate: baud, hupcl: false, autoOpen: false });
  } catch (error) {
    return { ok: false, message: messageOf(error) };
  }
  return new Promise((resolve) => {
    port.open((error) => {
      if (error) resolve({ ok: false, message: error.message });
      else resolve({ ok: true, port: attach(port, listener) });
    });
  });
}

/** A new line reader and parser for each opening: kept over a gap they would glue two halves into one number. */
function attach(port: SerialPort, listener: PortListener): OpenPort {
  let listening = true;
  let whole = false;
  const gone = (): void => {
    if (!listening) return;
    listening = false;
    listener.gone();
  };
  port.on('close', gone);
  port.on('error', gone);
  port.on('end', gone);

  // Before the pipe, so that bytes are told of before the line they complete.
  port.on('data', (chunk: Buffer) => {
    if (listening) listener.bytes(chunk);
  });
  const lines = port.pipe(new LineReader()).pipe(new ReadlineParser({ encoding: 'latin1', readableObjectMode: true }));
  lines.on('data', (text: string) => {
    if (listening) listener.line(text, whole);
    whole = true;
  });

  return {
    setBaud: async (baud) => {
      const changed = await succeeded((done) => port.update({ baudRate: baud }, done));
      whole = false;
      return changed;
    },
    send: (text) => succeeded((done) => port.write(text, 'latin1', done)),
    close: () => {
      listening = false;
      return closed(port);
    },
  };
}

function succeeded(begin: (done: (error?: Error | null) => void) => void): Promise<boolean> {
  return new Promise((resolve) => begin((error) => resolve(!error)));
}

/** The callback also reports a port that had closed itself: closed is closed. */
function closed(port: SerialPort): Promise<void> {
  return new Promise((resolve) => {
    port.close(() => resolve());
  });
}
