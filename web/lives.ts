/** The page's lines to all bowls: to the one that is looked at, and, where there are several, to each of the others. */
import { Live } from './live.ts';

export class Lives {
  #here: Live;
  readonly #others = new Map<string, Live>();
  readonly #listeners = new Set<() => void>();
  #isAudible = false;

  /** `bowl`: the one to look at first; empty: the first on the bench. */
  constructor(bowl: string) {
    this.#here = this.#begin(bowl === '' ? null : bowl);
  }

  /** The bowl that is looked at. */
  get here(): Live {
    return this.#here;
  }

  /** All others, in the order of the bench. */
  get others(): readonly Live[] {
    return this.#here.state().bowls.flatMap(({ bowl }) => this.#others.get(bowl) ?? []);
  }

  /** Looks at another one. */
  go(bowl: string): void {
    const before = this.#here;
    if (bowl === before.bowl) return;
    this.#here = this.#others.get(bowl) ?? this.#begin(bowl);
    this.#others.delete(bowl);
    if (before.bowl !== null) this.#others.set(before.bowl, before);
    this.#follow();
    this.#tell();
  }

  tellAudible(isAudible: boolean): void {
    this.#isAudible = isAudible;
    for (const live of [this.#here, ...this.#others.values()]) live.tellAudible(isAudible);
  }

  /** Calls back when it is another bowl that is looked at, or others beside it; returns how to stop that. */
  subscribe(listener: () => void): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  #begin(bowl: string | null): Live {
    const live = new Live(bowl);
    live.subscribe(() => live === this.#here && this.#follow());
    live.tellAudible(this.#isAudible);
    live.start();
    return live;
  }

  /** A line to each bowl that the bench has, and to no other. */
  #follow(): void {
    const { bowl: here, bowls, refused } = this.#here.state();
    if (refused === 'no-such-bowl') return this.#leave();
    if (here === null || bowls.length === 0) return;
    const wanted = bowls.map(({ bowl }) => bowl).filter((bowl) => bowl !== here);
    const gone = [...this.#others.keys()].filter((bowl) => !wanted.includes(bowl));
    const fresh = wanted.filter((bowl) => !this.#others.has(bowl));
    for (const bowl of gone) {
      this.#others.get(bowl)!.stop();
      this.#others.delete(bowl);
    }
    for (const bowl of fresh) this.#others.set(bowl, this.#begin(bowl));
    if (gone.length + fresh.length > 0) this.#tell();
  }

  /** The bowl was taken from the bench, or never stood there. */
  #leave(): void {
    this.#here.stop();
    const [next] = this.#others;
    if (next !== undefined) this.#others.delete(next[0]);
    this.#here = next?.[1] ?? this.#begin(null);
    this.#follow();
    this.#tell();
  }

  #tell(): void {
    for (const listener of this.#listeners) listener();
  }
}
