/**
 * Which source feeds the bowl, and when it is changed for another: the port that was named, the device remembered, the only one there
 * is, or the simulated bowl while there is none. Knows nothing of runs.
 */
import type { LinkState } from './core/show/wire.ts';
import { type FoundPort, NO_PORT, type PortIdentity, type UsbPort } from './source/ports.ts';
import type { Source } from './source/source.ts';

/** What was asked for on the command line. */
export type Wanted =
  | { readonly kind: 'simulated' }
  | { readonly kind: 'path'; readonly path: string }
  /** Whatever is there. */
  | { readonly kind: 'any' };

export interface ThermometerOptions {
  readonly wanted: Wanted;
  /** The device chosen before, or null. */
  readonly remembered: PortIdentity | null;
  readonly find: (remembered: PortIdentity | null) => Promise<FoundPort>;
  readonly remember: (identity: PortIdentity) => void;
  readonly serial: (where: { readonly path: string } | { readonly identity: PortIdentity }) => Source;
  readonly simulated: () => Source;
  /** Told before anything of a new source; the one before it has been closed. */
  readonly onSource: (source: Source) => void;
  readonly onLink: (state: LinkState) => void;
  readonly onInput: Parameters<Source['start']>[0]['input'];
  readonly lookAgainMs?: number;
}

/** While there is no thermometer, the ports are looked at this often, ms (ours: soon enough for somebody who just plugged it in). */
const LOOK_AGAIN_MS = 5_000;

export class Thermometer {
  readonly #options: ThermometerOptions;
  #source: Source | null = null;
  #several: readonly UsbPort[] = [];
  #timer: NodeJS.Timeout | undefined;
  #looking: Promise<void> = Promise.resolve();
  #closed = false;

  constructor(options: ThermometerOptions) {
    this.#options = options;
  }

  /** Resolves once the first source is chosen, or it is clear that a person has to choose. */
  async start(): Promise<void> {
    const { wanted, simulated, serial } = this.#options;
    switch (wanted.kind) {
      case 'simulated':
        return this.#change(simulated());
      case 'path':
        return this.#change(serial({ path: wanted.path }));
      case 'any':
        this.#looking = this.#look();
        return this.#looking;
    }
  }

  /** The ports a person has to choose from; empty where there is no question. */
  get choices(): readonly UsbPort[] {
    return this.#several;
  }

  /** A person's choice among `choices`, by path. False where it is none of them. */
  async choose(path: string): Promise<boolean> {
    const port = this.#several.find((each) => each.path === path);
    if (port === undefined) return false;
    clearTimeout(this.#timer);
    await this.#open(port);
    return true;
  }

  async close(): Promise<void> {
    this.#closed = true;
    clearTimeout(this.#timer);
    await this.#looking;
    await this.#source?.close();
  }

  async #look(): Promise<void> {
    const { find, remembered } = this.#options;
    const found = await find(remembered);
    const isSettled = this.#source !== null && !this.#source.simulated;
    if (this.#closed || isSettled) return;
    this.#several = found.kind === 'several' ? found.ports : [];
    if (found.kind === 'one') return this.#open(found);
    await this.#doWithout(found);
    this.#timer = setTimeout(() => {
      this.#looking = this.#look();
    }, this.#options.lookAgainMs ?? LOOK_AGAIN_MS);
  }

  /** None, or nobody knows which: only where none was ever chosen is the simulated bowl a fair stand-in. */
  async #doWithout(found: Exclude<FoundPort, { kind: 'one' }>): Promise<void> {
    const { remembered, simulated, onLink } = this.#options;
    if (this.#source?.simulated) return;
    if (found.kind === 'none' && remembered === null) return this.#change(simulated());
    onLink({
      state: 'looking',
      why: found.kind === 'none' ? waitingFor(found.why) : whichOf(found.ports),
    });
  }

  async #open(port: UsbPort): Promise<void> {
    this.#several = [];
    this.#options.remember(port.identity);
    await this.#change(this.#options.serial({ identity: port.identity }));
  }

  async #change(next: Source): Promise<void> {
    await this.#source?.close();
    if (this.#closed) return next.close();
    const { onSource, onInput, onLink } = this.#options;
    this.#source = next;
    onSource(next);
    next.start({ input: onInput, link: onLink });
  }
}

/** One is remembered, and not there. */
function waitingFor(why: string): string {
  const act = why === NO_PORT ? ' Plug it in, and it is used by itself.' : '';
  return `Waiting for your thermometer. ${why}${act}`;
}

function whichOf(ports: readonly UsbPort[]): string {
  const which = ports.map(({ label }) => label).join('; ');
  return `Which one is in the chocolate? These are plugged in: ${which}. Tap it on the page.`;
}
