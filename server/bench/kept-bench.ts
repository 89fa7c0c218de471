/** The bench as it is now, kept in the settings; says when it changes. Holds where the folder cannot be written, too. */
import type { Bench } from './bench.ts';
import { readSettings, rememberBench } from '../settings.ts';

export class KeptBench {
  readonly #folder: string;
  readonly #listeners: (() => void)[] = [];
  #now: Bench;

  /** `folder`: where the settings lie. */
  constructor(folder: string) {
    this.#folder = folder;
    this.#now = readSettings(folder).bench;
  }

  get now(): Bench {
    return this.#now;
  }

  change(next: Bench): void {
    if (next === this.#now) return;
    this.#now = next;
    rememberBench(this.#folder, next);
    for (const listener of this.#listeners) listener();
  }

  onChanged(listener: () => void): void {
    this.#listeners.push(listener);
  }
}
