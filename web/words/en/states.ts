/** What the page of a run says about itself at once: this screen's link, and simulation. */
import type { RefusalReason } from '../../../server/core/show/wire.ts';
import { troubleWords } from '../../trouble.ts';
import type { Sentence } from './sentence.ts';

export const SIMULATED_RIBBON = 'Simulated: no thermometer is read.';

export const WAITING: Sentence = {
  act: 'One moment.',
  detail: 'Asking Bowlside about the bowl.',
  later: [],
  area: 'words',
  arm: null,
  leftS: null,
};

/** Why a screen knows nothing new: its line is lost, or it slept itself. */
export type LostBy = 'line' | 'sleep';

/** `lastTrue`: clock time of the last word from the server, empty where there was none. `refused`: what that word was, where it was one. */
export function lostSentence(lastTrue: string, by: LostBy = 'line', refused: RefusalReason | null = null): Sentence {
  const calm = { later: [], area: 'words', arm: null, leftS: null } as const;
  const since = lastTrue === '' ? '' : `Last true at ${lastTrue}. `;
  const why = refused === null ? undefined : troubleWords()?.REFUSED[refused];
  if (why !== undefined) return { ...calm, ...why };
  if (by === 'sleep') return { ...calm, act: 'This screen was asleep.', detail: `${since}Catching up.` };
  const detail = lastTrue === '' ? 'Trying to reach it. Is its machine on?' : `${since}Trying again.`;
  return { ...calm, act: 'This screen has lost Bowlside.', detail };
}

export function screensWords(screens: number): string {
  if (screens <= 1) return 'one screen';
  const SMALL = ['two', 'three', 'four', 'five', 'six'];
  return `${SMALL[screens - 2] ?? String(screens)} screens`;
}
