/**
 * Virtual serial ports under the real serial library: its binding to the system is the one thing replaced. A port's path is a real
 * file, so that whoever looks at it sees it go and another come; while it is open it is held, as a device's number is.
 */
import { closeSync, mkdtempSync, openSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { SerialPort } from 'serialport';
import type { Deed, Device } from './deeds.ts';
import { identityAt, listedAt, type Wire } from './wire.ts';

interface Plugged {
  readonly device: Device;
  readonly socket: number;
  readonly path: string;
  port: VirtualPort | null;
}

interface Reading {
  readonly buffer: Buffer;
  readonly offset: number;
  readonly length: number;
  readonly done: (read: { buffer: Buffer; bytesRead: number }) => void;
  readonly failed: (error: Error) => void;
}

interface OpenOptions {
  readonly path: string;
  readonly baudRate: number;
}

/** The end of the serial library that a system's driver would be. */
class VirtualPort {
  readonly openOptions: object;
  isOpen = true;
  readonly #handle: number;
  readonly #onClose: () => void;
  #waiting: Buffer = Buffer.alloc(0);
  #reading: Reading | null = null;
  #isDead = false;

  baud: number;

  constructor(options: OpenOptions, onClose: () => void) {
    this.openOptions = options;
    this.baud = options.baudRate;
    this.#handle = openSync(options.path, 'r');
    this.#onClose = onClose;
  }

  read(buffer: Buffer, offset: number, length: number): Promise<{ buffer: Buffer; bytesRead: number }> {
    return new Promise((done, failed) => {
      this.#reading = { buffer, offset, length, done, failed };
      this.#pass();
    });
  }

  close(): Promise<void> {
    this.isOpen = false;
    closeSync(this.#handle);
    this.#onClose();
    this.#fail(Object.assign(new Error('Canceled'), { canceled: true }));
    return Promise.resolve();
  }

  /** Bytes that the library has not taken yet. */
  get unread(): number {
    return this.#waiting.length;
  }

  /** Bytes from the device. */
  take(bytes: Buffer): void {
    this.#waiting = Buffer.concat([this.#waiting, bytes]);
    this.#pass();
  }

  /** In the middle of a read the library is not told: that read never ends. */
  pull(inRead: boolean): void {
    this.#isDead = true;
    if (!inRead) this.#fail(Object.assign(new Error('the device is gone'), { disconnect: true }));
  }

  set = (): Promise<void> => Promise.resolve();
  update = ({ baudRate }: { readonly baudRate: number }): Promise<void> => {
    this.baud = baudRate;
    return Promise.resolve();
  };
  flush = (): Promise<void> => Promise.resolve();
  drain = (): Promise<void> => Promise.resolve();
  write = (): Promise<void> => Promise.resolve();

  #pass(): void {
    const { length } = this.#waiting;
    if (this.#reading === null || length === 0 || this.#isDead) return;
    const { buffer, offset, length: most, done } = this.#reading;
    const bytesRead = Math.min(most, length);
    this.#waiting.copy(buffer, offset, 0, bytesRead);
    this.#waiting = this.#waiting.subarray(bytesRead);
    this.#reading = null;
    done({ buffer, bytesRead });
  }

  #fail(error: Error): void {
    const reading = this.#reading;
    this.#reading = null;
    reading?.failed(error);
  }
}

type Open = (options: OpenOptions) => Promise<unknown>;
const library = SerialPort.binding as unknown as { open: Open };

/** All virtual ports of this process: the library's own way of opening stays for every other path. */
const PORTS = new Map<string, VirtualWire>();
const openReally = library.open.bind(library);
library.open = async (options) => PORTS.get(options.path)?.open(options) ?? openReally(options);

export class VirtualWire implements Wire {
  readonly #folder = mkdtempSync(join(tmpdir(), 'bowlside-virtual-'));
  readonly #serials: boolean;
  readonly #plugged = new Map<Device, Plugged>();
  #isHeld = false;
  #isForbidden = false;
  /** How often a port was opened, by device: opening can restart a board. */
  readonly openings: Record<Device, number> = { own: 0, clone: 0 };

  /** `serials` false: its make has no serial numbers. */
  constructor({ serials = true }: { readonly serials?: boolean } = {}) {
    this.#serials = serials;
  }

  readonly list: Wire['list'] = () => {
    const ports = [...this.#plugged.values()].map(({ path, device, socket }) =>
      listedAt(path, device, socket, this.#serials),
    );
    return Promise.resolve({ ok: true, ports });
  };

  get identity(): Wire['identity'] {
    return identityAt(this.#pathOf(0), this.#serials);
  }

  obey(deed: Deed): Promise<void> {
    switch (deed.kind) {
      case 'plug':
        return Promise.resolve(this.#plug(deed.device, deed.socket, this.#pathOf(deed.path)));
      case 'unplug':
        return Promise.resolve(this.#unplug(deed.device, deed.inRead));
      case 'say':
        return Promise.resolve(this.#say(deed));
      case 'hold':
      case 'let-go':
        this.#isHeld = deed.kind === 'hold';
        return Promise.resolve();
      case 'forbid':
      case 'allow':
        this.#isForbidden = deed.kind === 'forbid';
        return Promise.resolve();
    }
  }

  /** Called by the library. The words are those of its own binding on Linux. */
  open(options: OpenOptions): Promise<VirtualPort> {
    const plugged = [...this.#plugged.values()].find(({ path }) => path === options.path);
    if (plugged === undefined) return refused(`No such file or directory, cannot open ${options.path}`);
    if (this.#isForbidden) return refused(`Permission denied, cannot open ${options.path}`);
    if (this.#isHeld || plugged.port !== null) return refused('Resource temporarily unavailable Cannot lock port');
    this.openings[plugged.device]++;
    const port = new VirtualPort(options, () => {
      if (plugged.port === port) plugged.port = null;
    });
    plugged.port = port;
    return Promise.resolve(port);
  }

  /** Bytes that the library has not taken yet. */
  get unread(): number {
    return [...this.#plugged.values()].reduce((sum, { port }) => sum + (port?.unread ?? 0), 0);
  }

  close(): Promise<void> {
    for (const device of this.#plugged.keys()) this.#unplug(device, false);
    for (const [path, wire] of PORTS) if (wire === this) PORTS.delete(path);
    rmSync(this.#folder, { recursive: true, force: true });
    return Promise.resolve();
  }

  #say({ device, bytes, clear }: Extract<Deed, { kind: 'say' }>): void {
    const port = this.#plugged.get(device)?.port;
    port?.take(Buffer.from(port.baud === clear?.baud ? clear.bytes : bytes, 'latin1'));
  }

  #plug(device: Device, socket: number, path: string): void {
    writeFileSync(path, '');
    PORTS.set(path, this);
    this.#plugged.set(device, { device, socket, path, port: null });
  }

  #unplug(device: Device, inRead: boolean): void {
    const plugged = this.#plugged.get(device);
    if (plugged === undefined) return;
    this.#plugged.delete(device);
    rmSync(plugged.path, { force: true });
    plugged.port?.pull(inRead);
  }

  #pathOf(path: number): string {
    return join(this.#folder, `ttyUSB${path}`);
  }
}

function refused(words: string): Promise<never> {
  return Promise.reject(new Error(`Error: ${words}`));
}
