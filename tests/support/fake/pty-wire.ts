/** The fake thermometer on real pseudo-terminals: pulling it out closes the master, another program holding the port really holds it. */
import { mkdtempSync, renameSync, rmSync, symlinkSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { SerialPort } from 'serialport';
import { openPty, type Pty } from '../pty.ts';
import type { Deed, Device } from './deeds.ts';
import { identityAt, listedAt, type Wire } from './wire.ts';

interface Plugged {
  readonly pty: Pty;
  readonly socket: number;
  readonly path: string;
}

export class PtyWire implements Wire {
  readonly #folder = mkdtempSync(join(tmpdir(), 'bowlside-fake-'));
  readonly #plugged = new Map<Device, Plugged>();
  #isHeld = false;
  #holder: SerialPort | null = null;

  readonly list: Wire['list'] = () => {
    const ports = [...this.#plugged].map(([device, { path, socket }]) => listedAt(path, device, socket, true));
    return Promise.resolve({ ok: true, ports });
  };

  get identity(): Wire['identity'] {
    return identityAt(this.path, true);
  }

  /** Where it stands unless a switch has it elsewhere. */
  get path(): string {
    return this.#pathOf(0);
  }

  async obey(deed: Deed): Promise<void> {
    switch (deed.kind) {
      case 'plug':
        return this.#plug(deed.device, deed.socket, this.#pathOf(deed.path));
      case 'unplug':
        return this.#unplug(deed.device, deed.inRead);
      case 'say':
        // Not waited for, as nobody may be reading; unplugged meanwhile, nobody hears it.
        void this.#plugged
          .get(deed.device)
          ?.pty.write(deed.bytes)
          .catch(() => {});
        return;
      case 'hold':
        this.#isHeld = true;
        return;
      case 'let-go':
        return this.#letGo();
      case 'forbid':
        throw new Error('who owns a pseudo-terminal may open it: this switch needs the virtual port');
      case 'allow':
    }
  }

  async close(): Promise<void> {
    await this.#letGo();
    for (const device of this.#plugged.keys()) await this.#unplug(device, false);
    rmSync(this.#folder, { recursive: true, force: true });
  }

  /** Held by another program before anybody can see it. */
  async #plug(device: Device, socket: number, path: string): Promise<void> {
    const pty = openPty();
    if (this.#isHeld) this.#holder = await heldBy(pty.path);
    symlinkSync(pty.path, `${path}.new`);
    renameSync(`${path}.new`, path);
    this.#plugged.set(device, { pty, socket, path });
  }

  /** Pulled right behind bytes that nobody has taken yet, it is pulled in the middle of a read. */
  async #unplug(device: Device, inRead: boolean): Promise<void> {
    const plugged = this.#plugged.get(device);
    if (plugged === undefined) return;
    this.#plugged.delete(device);
    if (inRead) await plugged.pty.write('31.5\r\n'.repeat(20)).catch(() => {});
    rmSync(plugged.path, { force: true });
    plugged.pty.unplug();
  }

  async #letGo(): Promise<void> {
    this.#isHeld = false;
    const holder = this.#holder;
    this.#holder = null;
    if (holder?.isOpen === true) await new Promise<void>((resolve) => holder.close(() => resolve()));
  }

  #pathOf(path: number): string {
    return join(this.#folder, `ttyUSB${path}`);
  }
}

function heldBy(path: string): Promise<SerialPort> {
  return new Promise((resolve, reject) => {
    const port = new SerialPort({ path, baudRate: 9600, hupcl: false }, (error) => {
      if (error) reject(error);
      else resolve(port);
    });
    port.on('error', () => {});
  });
}
