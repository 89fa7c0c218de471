/**
 * Which source feeds the bowl, and when it is changed for another: the port that was named, the device remembered, the only one there
 * is, or the simulated bowl while there is none. Knows nothing of runs.
 */
import type { LinkState } from '../core/show/wire.ts';
import type { Query } from '../source/asking.ts';
import type { AllPorts, FoundPort, PortIdentity, UsbPort } from '../source/ports.ts';
import type { Where } from '../source/serial.ts';
import type { Source } from '../source/source.ts';

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
  /** Where this device is now. */
  readonly locate: (identity: PortIdentity) => Promise<FoundPort>;
  readonly all: () => Promise<AllPorts>;
  readonly remember: (identity: PortIdentity) => void;
  /** `locate`: how it finds its device again; what is asked there is a choice here. */
  readonly serial: (where: Where, locate: (identity: PortIdentity) => Promise<FoundPort>) => Source;
  readonly simulated: () => Source;
  /** A person wants the thermometer that is open there to be asked, or not any more. */
  readonly rememberQuery: (where: Where, query: Query | null) => Promise<void>;
  /** Told before anything of a new source; the one before it has been closed. */
  readonly onSource: (source: Source) => void;
  readonly onLink: (state: LinkState) => void;
  readonly onInput: Parameters<Source['start']>[0]['input'];
  readonly lookAgainMs?: number;
}

/** A port that a person may choose. `identity`: null where it has none on USB. */
export interface PortChoice {
  readonly path: string;
  readonly label: string;
  readonly identity: PortIdentity | null;
}

export interface EveryPort {
  readonly ports: readonly PortChoice[];
  /** Why there is none with a USB identity, and what to do; empty: there is. */
  readonly why: string;
}

/** While there is no thermometer, the ports are looked at this often, ms (ours: soon enough for somebody who just plugged it in). */
const LOOK_AGAIN_MS = 5_000;

export class Thermometer {
  readonly #options: ThermometerOptions;
  #source: Source | null = null;
  #several: readonly UsbPort[] = [];
  #timer: NodeJS.Timeout | undefined;
  #looking: Promise<void> = Promise.resolve();
  /** What was opened last; null: the simulated bowl, or nothing yet. */
  #where: Where | null = null;
  #link: LinkState['state'] = 'looking';
  #closed = false;

  constructor(options: ThermometerOptions) {
    this.#options = options;
  }

  /** Resolves once the first source is chosen, or it is clear that a person has to choose. */
  async start(): Promise<void> {
    const { wanted, simulated } = this.#options;
    switch (wanted.kind) {
      case 'simulated':
        return this.#change(simulated());
      case 'path':
        return this.#change(this.#serial({ path: wanted.path }));
      case 'any':
        this.#looking = this.#look();
        return this.#looking;
    }
  }

  /** The ports a person has to choose from; empty where there is no question. */
  get choices(): readonly PortChoice[] {
    return this.#several;
  }

  /** Every port there is now, for who knows better: those that are built in, or come over the air, last. */
  async all(): Promise<EveryPort> {
    const { usb, others, why } = await this.#options.all();
    return { ports: [...usb, ...others.map((port) => ({ ...port, identity: null }))], why };
  }

  /** A person's choice among all ports, by path. False where it is none of them. One without a USB identity is not remembered. */
  async choose(path: string): Promise<boolean> {
    const ports = [...this.#several, ...(await this.all()).ports];
    const port = ports.find((each) => each.path === path);
    if (port === undefined || this.#closed) return false;
    clearTimeout(this.#timer);
    await this.#looking;
    clearTimeout(this.#timer);
    // It is open already: opened anew it might restart.
    if (this.#link !== 'up' || !isSame(port, this.#where)) await this.#open(port);
    return true;
  }

  /** A person's yes to asking the thermometer that is open, or null to take it back. False where there is none that could be asked. */
  async ask(query: Query | null): Promise<boolean> {
    const source = this.#source;
    if (source?.ask === undefined || this.#where === null) return false;
    await this.#options.rememberQuery(this.#where, query);
    source.ask(query);
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
      why: found.kind === 'none' ? `Waiting for your thermometer. ${found.why}` : whichOf(found.ports),
    });
  }

  async #open({ path, identity }: PortChoice): Promise<void> {
    this.#several = [];
    if (identity !== null) this.#options.remember(identity);
    await this.#change(this.#serial(identity === null ? { path } : { identity }));
  }

  #serial(where: Where): Source {
    this.#where = where;
    return this.#options.serial(where, async (identity) => {
      const found = await this.#options.locate(identity);
      this.#several = found.kind === 'several' ? found.ports : [];
      return found;
    });
  }

  async #change(next: Source): Promise<void> {
    await this.#source?.close();
    if (this.#closed) return next.close();
    const { onSource, onInput, onLink } = this.#options;
    this.#source = next;
    onSource(next);
    next.start({
      input: onInput,
      link: (state) => {
        this.#link = state.state;
        onLink(state);
      },
    });
  }
}

function isSame({ path }: PortChoice, where: Where | null): boolean {
  return where !== null && path === ('path' in where ? where.path : where.identity.path);
}

function whichOf(ports: readonly UsbPort[]): string {
  const which = ports.map(({ label }) => label).join('; ');
  return `Which one is in the chocolate? These are plugged in: ${which}. Tap it on the page.`;
}
