/**
 * A pretend serial device: a pseudo-terminal that the real serial library opens, to be written to, unplugged and plugged in again.
 * Nothing to install by hand. It may be read by this process or by another one.
 */
import { closeSync, read, renameSync, rmSync, symlinkSync, write } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { ReadStream } from 'node:tty';

export interface Pty {
  /** What to open. */
  readonly path: string;
  /** Text goes out one byte per character. Resolves when the last byte has left; rejects once unplugged. */
  write(data: string | Buffer): Promise<void>;
  /** What was sent to it since it was last asked, one character a byte; empty: nothing. */
  taken(): Promise<string>;
  /** The device goes away; safe to call twice. */
  unplug(): void;
}

/** A device that comes back at the same path, as a symbolic link moved to a new pseudo-terminal. */
export interface Pluggable {
  readonly path: string;
  plug(): void;
  unplug(): void;
  /** Rejects while nothing is plugged in. */
  write(data: string | Buffer): Promise<void>;
}

interface OpenedPair {
  readonly master: number;
  readonly slave: number;
  readonly pty: string;
}

/** How long a full pseudo-terminal is given before it is tried again, ms. */
const FULL_WAIT_MS = 2;

/**
 * The package's own terminal object reads from the device's side (stealing bytes), writes blockingly (a deadlock when this
 * process is the reader too) and leaks a descriptor, so that its bare binary is used: two descriptors that are ours alone.
 */
function openPair(): OpenedPair {
  const load = createRequire(import.meta.url);
  const { requireBinary } = load('@lydell/node-pty/requireBinary.js') as {
    requireBinary: (file: string) => unknown;
  };
  const binary = requireBinary('pty.node') as { open(columns: number, rows: number): OpenedPair };
  return binary.open(80, 24);
}

/** The near side stays open as long as the device is plugged in: else its first closing would hang the far side up. */
export function openPty(): Pty {
  const { master, slave, pty } = openPair();
  setRaw(slave);
  let plugged = true;
  let writing = Promise.resolve();

  const writeAll = async (data: Buffer): Promise<void> => {
    for (let sent = 0; sent < data.length;) {
      if (!plugged) throw new Error(`${pty} is unplugged`);
      const count = await writeSome(master, data.subarray(sent));
      sent += count;
      if (count === 0) await wait(FULL_WAIT_MS);
    }
  };
  return {
    path: pty,
    write(data) {
      const bytes = typeof data === 'string' ? Buffer.from(data, 'latin1') : data;
      const written = writing.then(() => writeAll(bytes));
      writing = written.catch(() => {});
      return written;
    },
    async taken() {
      if (!plugged) return '';
      return readSome(master).catch((error: unknown) => {
        // Unplugged while it was asked.
        if (!plugged) return '';
        throw error;
      });
    },
    unplug() {
      if (!plugged) return;
      plugged = false;
      closeSync(slave);
      closeSync(master);
    },
  };
}

/** Without it the terminal would echo, and change line ends, until the reader has opened it. */
function setRaw(slave: number): void {
  const terminal = new ReadStream(slave);
  terminal.setRawMode(true);
  terminal.destroy();
}

/** In the thread pool; 0 where the pseudo-terminal is full. */
function writeSome(master: number, data: Buffer): Promise<number> {
  return new Promise((resolve, reject) => {
    write(master, data, (error, count) => {
      if (error === null) resolve(count);
      else if (error.code === 'EAGAIN') resolve(0);
      else reject(error);
    });
  });
}

/** In the thread pool; empty where there is nothing. */
function readSome(master: number): Promise<string> {
  const bytes = Buffer.alloc(4096);
  return new Promise((resolve, reject) => {
    read(master, bytes, 0, bytes.length, null, (error, count) => {
      if (error === null) resolve(bytes.toString('latin1', 0, count));
      else if (error.code === 'EAGAIN') resolve('');
      else reject(error);
    });
  });
}

/** Nothing is plugged in at first. `folder`: an empty one of the test's own; the path in it stays the same over every replug. */
export function pluggable(folder: string): Pluggable {
  const path = join(folder, 'thermometer');
  let device: Pty | null = null;
  return {
    path,
    plug() {
      device?.unplug();
      device = openPty();
      symlinkSync(device.path, `${path}.new`);
      renameSync(`${path}.new`, path);
    },
    unplug() {
      rmSync(path, { force: true });
      device?.unplug();
      device = null;
    },
    write(data) {
      return device === null ? Promise.reject(new Error('nothing is plugged in')) : device.write(data);
    },
  };
}
