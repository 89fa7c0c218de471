/**
 * What is known of each thermometer: what the flags of this start say, what was said or measured in this run and in earlier ones. A real
 * thermometer is remembered between starts; what is said of the simulated bowl lasts as long as the server.
 */
import type { UsedLag } from '../core/check/told.ts';
import type { Command } from '../core/record/command.ts';
import { companionOf, type Probe, probeAfter } from '../core/record/probe.ts';
import type { Companion } from '../core/record/run.ts';
import { type KnownProbe, readSettings, rememberProbe, UNKNOWN_PROBE } from '../settings.ts';
import type { Source } from '../source/source.ts';

export interface KnownProbesOptions {
  /** Where the settings lie. */
  readonly folder: string;
  /** What `--probe-lag` says, seconds: it wins over what is remembered, and is not remembered itself. null: not given. */
  readonly flagLagS: number | null;
  /** Sources known under another name than their id: a port named by hand has that of what is plugged in there. */
  readonly names?: Readonly<Record<string, string>>;
}

type Named = Pick<Source, 'id' | 'simulated'>;

export class KnownProbes {
  readonly #options: KnownProbesOptions;
  /** Holds where the folder cannot be written, too. */
  readonly #known = new Map<string, KnownProbe>();
  #onChanged: () => void = () => {};

  constructor(options: KnownProbesOptions) {
    this.#options = options;
  }

  /** Is told whenever something else is known of a thermometer: it may be in several bowls. */
  onChanged(listener: () => void): void {
    this.#onChanged = listener;
  }

  /** What a run with this thermometer begins with. */
  of(source: Named): Probe {
    const { lag: _lag, ...probe } = this.#knownOf(source);
    return { probeLagS: this.lagOf(source)?.lagS ?? null, ...probe };
  }

  lagOf(source: Named): UsedLag | null {
    const { flagLagS } = this.#options;
    if (flagLagS !== null) return { lagS: flagLagS, from: 'flag', measuredAtWall: null };
    const { lag } = this.#knownOf(source);
    return lag === null ? null : { ...lag, from: lag.measuredAtWall === null ? 'said' : 'measured' };
  }

  /** False where the command says nothing of the thermometer. */
  learn(source: Named, command: Command): boolean {
    const known = this.#knownOf(source);
    if (probeAfter(known, command) === known) return false;
    this.#change(source, (before) => probeAfter(before, command));
    return true;
  }

  /** Its chocolate is another channel now: a check of the thermometer as such holds for what was checked. Those of its channels stay. */
  uncheck(source: Named): void {
    if (this.#knownOf(source).check) this.#change(source, (before) => ({ ...before, check: null }));
  }

  /** As a person says it; null: forget it. Seconds, 0 to `PROBE_LAG_MAX_S`. */
  setLag(source: Named, lagS: number | null): void {
    const lag = lagS === null ? null : { lagS, measuredAtWall: null };
    this.#change(source, (before) => ({ ...before, lag }));
  }

  /** What a run that goes on knew of its thermometer, where nothing else is known: the folder could not be written then. */
  recover(source: Named, probe: Companion): void {
    if (this.#knownOf(source) === UNKNOWN_PROBE)
      this.#known.set(this.nameOf(source.id), { lag: null, ...companionOf(probe) });
  }

  #knownOf(source: Named): KnownProbe {
    const name = this.nameOf(source.id);
    const known = this.#known.get(name) ?? this.#storedOf(source, name);
    this.#known.set(name, known);
    return known;
  }

  #storedOf({ simulated }: Named, name: string): KnownProbe {
    return (simulated ? undefined : readSettings(this.#options.folder).probes[name]) ?? UNKNOWN_PROBE;
  }

  #change(source: Named, change: (known: KnownProbe) => KnownProbe): void {
    const name = this.nameOf(source.id);
    this.#known.set(name, change(this.#knownOf(source)));
    if (!source.simulated) rememberProbe(this.#options.folder, name, change);
    this.#onChanged();
  }

  /** The same name for the same thermometer, however its port was found. */
  nameOf(source: string): string {
    return this.#options.names?.[source] ?? source;
  }
}
