/** Where in the page one can be: the bowl, and the pages that are fetched when somebody goes there, by address. */
import type { ComponentType } from 'preact';
import { laterPage } from './part.tsx';

/** A page beside the bowl. `about`: the rest of the address, decoded; empty: nothing. `bowl`: the one looked at last; null: not known yet. */
export type AsidePage = ComponentType<{ readonly about: string; readonly bowl: string | null }>;

/** Under `word` the page at `#/word`, under `word/` the one at `#/word/…`. */
const WORDS = [
  'runs',
  'bench',
  'kept',
  'profiles',
  'profiles/',
  'check',
  'thermometer',
  'screens',
  'bag',
  'runs/',
  'compare/',
  'heard',
  'bin',
  'hand-over/',
  'bring-in',
  'judged/',
] as const;
export type AsideWord = (typeof WORDS)[number];

/** Where they are fetched from comes with the first of them. */
const PAGES: ReadonlyMap<string, AsidePage> = new Map(
  WORDS.map((word) => [word, laterPage(() => import('./pages/aside.ts').then((part) => part.FETCH_PAGE[word]()))]),
);

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
  const Page = PAGES.get(key);
  if (Page === undefined) return { Page: null, about: first === 'bowl' ? decoded(second) : '', word: '' };
  return { Page, about: decoded(second), word: key };
}

/** An address mistyped by hand is about nothing. */
function decoded(text: string): string {
  try {
    return decodeURIComponent(text);
  } catch {
    return '';
  }
}
