/** Where in the page one can be: the bowl, and the pages that are fetched when somebody goes there, by address. */
import type { ComponentType } from 'preact';
import { laterPage } from './part.tsx';

/** A page beside the bowl. `about`: the rest of the address, decoded; empty: nothing. `bowl`: the one looked at last; null: not known yet. */
export type AsidePage = ComponentType<{ readonly about: string; readonly bowl: string | null }>;

/** Asked for again, it is the same one. */
const fetchBeside = () => import('./pages/beside.ts');

/** Under `word` the page at `#/word`, under `word/` the one at `#/word/…`. */
const PAGES: Readonly<Record<string, AsidePage>> = {
  runs: laterPage(() => import('./pages/runs.tsx').then((part) => part.RunsPage)),
  bench: laterPage(() => import('./pages/bench.tsx').then((part) => part.BenchPage)),
  kept: laterPage(() => fetchBeside().then((part) => part.KeptPage)),
  profiles: laterPage(() => fetchBeside().then((part) => part.ProfilesPage)),
  'profiles/': laterPage(() => fetchBeside().then((part) => part.ProfilePage)),
  check: laterPage(() => fetchBeside().then((part) => part.CheckPage)),
  thermometer: laterPage(() => fetchBeside().then((part) => part.ThermometerPage)),
  screens: laterPage(() => fetchBeside().then((part) => part.ScreensPage)),
  bag: laterPage(() => fetchBeside().then((part) => part.BagPage)),
  'runs/': laterPage(() => import('./pages/past.tsx').then((part) => part.PastRunPage)),
  'compare/': laterPage(() => import('./pages/compare.tsx').then((part) => part.ComparePage)),
  heard: laterPage(() => import('./pages/heard.tsx').then((part) => part.HeardPage)),
  bin: laterPage(() => import('./pages/bin.tsx').then((part) => part.BinPage)),
  'hand-over/': laterPage(() => import('./pages/hand-over.tsx').then((part) => part.HandOverPage)),
  'bring-in': laterPage(() => import('./pages/bring-in.tsx').then((part) => part.BringInPage)),
  'judged/': laterPage(() => import('./pages/judged.tsx').then((part) => part.JudgedPage)),
};

export interface Place {
  /** null: a bowl. */
  readonly Page: AsidePage | null;
  /** Of the bowl its id; empty: the one that was looked at last. */
  readonly about: string;
  /** Its part of the address; empty: the bowl. */
  readonly word: string;
}

/** `#/` is the bowl, `#/bowl/…` one of several, `#/runs` the list, `#/runs/…` one of them. Anything unknown is the bowl. */
export function placeOf(hash: string): Place {
  const [, first = '', second = ''] = hash.split('/');
  const key = second === '' ? first : `${first}/`;
  if (!Object.hasOwn(PAGES, key)) return { Page: null, about: first === 'bowl' ? decoded(second) : '', word: '' };
  return { Page: PAGES[key]!, about: decoded(second), word: key };
}

/** An address mistyped by hand is about nothing. */
function decoded(text: string): string {
  try {
    return decodeURIComponent(text);
  } catch {
    return '';
  }
}
