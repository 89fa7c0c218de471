/** Empties the bin of what has lain there for 30 days: when Bowlside starts, and once a day. */
import { BIN_DAYS } from './core/show/listed.ts';
import type { Store } from './store/store.ts';

const DAY_MS = 24 * 3_600_000;

export interface Bin {
  close(): void;
}

export function tendBin(store: Pick<Store, 'emptyBin'>, wallNowMs: () => number): Bin {
  const empty = (): void => void store.emptyBin(new Date(wallNowMs() - BIN_DAYS * DAY_MS).toISOString());
  empty();
  const daily = setInterval(empty, DAY_MS);
  return { close: () => clearInterval(daily) };
}
