/**
 * All sources that are read at once: the thermometer that is chosen by itself or by a tap, others that a person opened beside it, and a
 * simulated bowl for each bowl while there is no thermometer at all. Knows which there are, and not what they are in.
 */
import type { LinkState } from '../core/show/wire.ts';
import { FIRST_BOWL_THERE, type Router } from './router.ts';
import type { Query } from '../source/asking.ts';
import { type PortIdentity, thermometerId } from '../source/ports.ts';
import type { Source } from '../source/source.ts';
import { type EveryPort, type PortChoice, Thermometer, type ThermometerOptions } from './thermometer.ts';

/** As many are read at once (ours: one for each channel that a bowl may have). */
export const THERMOMETERS_MOST = 8;

export interface ThermometersOptions extends Omit<ThermometerOptions, 'onSource' | 'onLink' | 'onInput' | 'simulated'> {
  readonly router: Router;
  /** Bowls on the bench, in order. */
  readonly bowls: () => readonly string[];
  readonly simulated: (bowl: string) => Source;
  /** Thermometers opened beside the first one before. */
  readonly beside: readonly PortIdentity[];
  readonly rememberBeside: (identities: readonly PortIdentity[]) => void;
  /** The name of a source by which the same thermometer is known however it was found. */
  readonly nameOf: (source: string) => string;
}

interface Beside {
  readonly identity: PortIdentity;
  readonly source: Source;
}

export class Thermometers {
  readonly #options: ThermometersOptions;
  readonly #main: Thermometer;
  #first: Source | null = null;
  #beside: readonly Beside[] = [];
  readonly #simulated = new Map<string, Source>();

  constructor(options: ThermometersOptions) {
    this.#options = options;
    this.#main = new Thermometer({
      ...options,
      simulated: () => options.simulated(options.bowls()[0]!),
      onSource: (source) => this.#changed(source),
      onLink: (state) => this.#linked(state),
      onInput: (input) => options.router.input(input),
    });
  }

  /** Resolves once the first one is chosen, or it is clear that a person has to choose. */
  async start(): Promise<void> {
    const { wanted, beside } = this.#options;
    if (wanted.kind !== 'simulated') for (const identity of beside) this.#openBeside(identity);
    await this.#main.start();
  }

  /** Ports that could be a thermometer and are not read: opening one is a person's to say. */
  async choices(): Promise<readonly PortChoice[]> {
    if (this.#options.wanted.kind === 'simulated') return [];
    const { usb } = await this.#options.all();
    const asked = this.#main.choices.filter(({ path }) => !usb.some((port) => port.path === path));
    return [...usb, ...asked].filter(({ identity }) => identity !== null && this.#readAs(identity) === null);
  }

  /** Every port there is, for who knows better. */
  all(): Promise<EveryPort> {
    return this.#main.all();
  }

  /**
   * A person's yes to asking the thermometer that the bench calls so, or null to take it back; `thermometer` null: the first one. False where
   * that is not open, or cannot be asked.
   */
  async ask(query: Query | null, thermometer: string | null): Promise<boolean> {
    const { nameOf, rememberQuery } = this.#options;
    const beside = this.#beside.find(({ source }) => nameOf(source.id) === thermometer);
    if (beside === undefined) return this.#isFirst(thermometer) && this.#main.ask(query);
    if (beside.source.ask === undefined) return false;
    await rememberQuery({ identity: beside.identity }, query);
    beside.source.ask(query);
    return true;
  }

  #isFirst(thermometer: string | null): boolean {
    return thermometer === null || (this.#first !== null && this.#options.nameOf(this.#first.id) === thermometer);
  }

  /** Opens a port, by path: in place of the first thermometer, or beside it where there is one. Gives its name; null where it cannot be. */
  async choose(path: string, isBeside: boolean): Promise<string | null> {
    const isSought = this.#first === null || this.#main.choices.some((port) => port.path === path);
    if (isBeside && !isSought) return this.#chooseBeside(path);
    const read = this.#beside.find(({ identity }) => identity.path === path);
    if (read !== undefined) await this.put(read.source.id);
    return (await this.#main.choose(path)) ? this.#options.nameOf(this.#first!.id) : null;
  }

  async #chooseBeside(path: string): Promise<string | null> {
    const { usb } = await this.#options.all();
    const port = usb.find((each) => each.path === path);
    if (port === undefined) return null;
    const read = this.#readAs(port.identity);
    if (read !== null) return read;
    if (this.#beside.length + 1 >= THERMOMETERS_MOST) return null;
    this.#openBeside(port.identity);
    this.#rememberBeside();
    return thermometerId({ identity: port.identity });
  }

  /** Closes one that was opened beside the first. False where it is none of these. */
  async put(source: string): Promise<boolean> {
    const gone = this.#beside.find((each) => each.source.id === source);
    if (gone === undefined) return false;
    this.#beside = this.#beside.filter((each) => each !== gone);
    this.#rememberBeside();
    this.#options.router.remove(source);
    await gone.source.close();
    return true;
  }

  /** Whether `put` can close it. */
  isBeside(source: string): boolean {
    return this.#beside.some((each) => each.source.id === source);
  }

  /** The bench has other bowls. */
  settle(): void {
    const wanted = this.#first?.simulated === true ? this.#options.bowls().slice(1) : [];
    for (const [bowl, source] of this.#simulated)
      if (!wanted.includes(bowl)) {
        this.#simulated.delete(bowl);
        this.#options.router.remove(source.id);
        void source.close();
      }
    for (const bowl of wanted) if (!this.#simulated.has(bowl)) this.#simulate(bowl);
  }

  async close(): Promise<void> {
    await this.#main.close();
    const others = [...this.#beside.map(({ source }) => source), ...this.#simulated.values()];
    await Promise.all(others.map((source) => source.close()));
  }

  #changed(source: Source): void {
    const before = this.#first;
    this.#first = source;
    this.#options.router.add(source, FIRST_BOWL_THERE, before?.id ?? null);
    this.settle();
  }

  #linked(state: LinkState): void {
    if (this.#first === null) this.#options.router.seek(state);
    else this.#options.router.link(this.#first.id, state);
  }

  #simulate(bowl: string): void {
    const source = this.#options.simulated(bowl);
    this.#simulated.set(bowl, source);
    this.#begin(source, bowl);
  }

  #openBeside(identity: PortIdentity): void {
    if (this.#readAs(identity) !== null) return;
    const { serial, locate } = this.#options;
    const source = serial({ identity }, locate);
    this.#beside = [...this.#beside, { identity, source }];
    this.#begin(source, null);
  }

  #begin(source: Source, home: string | null): void {
    const { router } = this.#options;
    router.add(source, home);
    source.start({ input: (input) => router.input(input), link: (state) => router.link(source.id, state) });
  }

  /** The name of what is read there; null: nothing. */
  #readAs(identity: PortIdentity): string | null {
    const name = thermometerId({ identity });
    const read = [this.#first, ...this.#beside.map(({ source }) => source)];
    return read.some((source) => source !== null && this.#options.nameOf(source.id) === name) ? name : null;
  }

  #rememberBeside(): void {
    this.#options.rememberBeside(this.#beside.map(({ identity }) => identity));
  }
}
