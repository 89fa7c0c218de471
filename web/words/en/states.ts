/** What the page of a run says about itself: this screen's link, simulation, chocolate that nobody has named. */
import type { NowMessage, RefusalReason } from '../../../server/core/show/wire.ts';
import { saidTempC } from '../../said-temperature.ts';
import { bound, degrees, shown, span } from '../measure.ts';
import type { Moment, Sentence } from './sentence.ts';

export const SIMULATED_RIBBON = 'Simulated: no thermometer is read.';

/** Once a run is over, what is in the bowl may be too warm for what nobody has said that it is. */
export function carefulStrip(careful: NonNullable<NowMessage['careful']>, now: Moment): string {
  return `Off the heat. ${overWords(careful, now)}`;
}

/** "47.0 is over 46, the ceiling for white." An old number is told as one. */
export function overWords(careful: NonNullable<NowMessage['careful']>, now: Moment): string {
  const limit = `${bound(careful.limitC)}, the ceiling for ${careful.coating}.`;
  const tempC = saidTempC(now) ?? now.reading?.valueC ?? null;
  if (tempC === null || now.stale) return `Was over ${limit}`;
  return `${degrees(tempC)} is ${overOrAt(tempC, careful.limitC)} ${limit}`;
}

/** As the shown figures say it: inside the dead band it may be neither over nor at. */
function overOrAt(tempC: number, limitC: number): string {
  const [value, limit] = [shown(tempC), shown(limitC)];
  if (value > limit) return 'over';
  return value === limit ? 'at' : 'just under';
}

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
  if (refused !== null) return { ...calm, ...REFUSED[refused] };
  if (by === 'sleep') return { ...calm, act: 'This screen was asleep.', detail: `${since}Catching up.` };
  const detail = lastTrue === '' ? 'Trying to reach it. Is its machine on?' : `${since}Trying again.`;
  return { ...calm, act: 'This screen has lost Bowlside.', detail };
}

const REFUSED: Readonly<Record<RefusalReason, Pick<Sentence, 'act' | 'detail'>>> = {
  'no-such-bowl': { act: 'No such bowl.', detail: 'Open the address that Bowlside printed.' },
  'too-many-screens': { act: 'Too many screens.', detail: 'Close one, then load this page again.' },
  protocol: { act: 'Load the page again.', detail: 'Bowlside is of another version than this page.' },
  'shut-out': { act: 'This screen was shut out.', detail: 'Load the page again, and give it a new code.' },
  'shutting-down': { act: 'Bowlside was shut down.', detail: 'Start it again; the run is kept and goes on.' },
};

/** For a minute after a power cut: how long nothing was read. */
export function carriedOnWords(goneS: number): string {
  return `Carried on after ${span(goneS)} without Bowlside. The gap stays a gap.`;
}

export function screensWords(screens: number): string {
  if (screens <= 1) return 'one screen';
  const SMALL = ['two', 'three', 'four', 'five', 'six'];
  return `${SMALL[screens - 2] ?? String(screens)} screens`;
}
