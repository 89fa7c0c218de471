/** What the page says about itself: the thermometer's link, this screen's link, simulation, playback, cautions. */
import type { LinkState, NowMessage, RefusalReason } from '../../../server/core/show/wire.ts';
import { bound, degrees, shown, span } from '../measure.ts';
import { sampleOf } from './link.ts';
import type { Moment, Sentence } from './sentence.ts';

export const SIMULATED_RIBBON = 'Simulated: no thermometer is read.';

/** How the thermometer stands, in plain words. */
export function linkWords(link: LinkState | null): string {
  if (link === null) return 'Asking Bowlside how the thermometer stands.';
  switch (link.state) {
    case 'up':
      return `Thermometer connected: ${link.label}.${heardWords(link)}${link.why === undefined ? '' : ` ${link.why}`}`;
    case 'simulated':
      return 'This is the simulated bowl. A thermometer you plug in is used by itself, unless this bowl was asked for at the start.';
    case 'looking':
      return link.why === '' ? 'Waiting for your thermometer.' : link.why;
    case 'down': {
      const again =
        link.retryInMs === null ? '' : ` Trying again in ${Math.max(1, Math.round(link.retryInMs / 1000))} s.`;
      return `${link.why}${again}`;
    }
  }
}

/** What was heard of it, and at which speed where that was found. */
function heardWords({ baud, sample }: Extract<LinkState, { state: 'up' }>): string {
  if (sample === undefined) return '';
  return baud === undefined ? ` It says “${sampleOf(sample)}”.` : ` At ${baud} baud it says “${sampleOf(sample)}”.`;
}

/** Nobody has said which chocolate it is, and one of them would burn: what to do, and which. An old number is told as one. */
export function carefulSentence(careful: NonNullable<NowMessage['careful']>, now: Moment): Sentence {
  return {
    act: 'Off the heat now.',
    detail: `${overWords(careful, now)} Which is it?`,
    later: [],
    area: 'band',
    arm: 'up',
    leftS: null,
  };
}

/** Somebody said which, and not yet how it stands. */
export function carefulChosenSentence(careful: NonNullable<NowMessage['careful']>, now: Moment): Sentence {
  return { ...carefulSentence(careful, now), detail: `${overWords(careful, now)} How does it stand?` };
}

/** The same once a run is over and nothing is asked. */
export function carefulStrip(careful: NonNullable<NowMessage['careful']>, now: Moment): string {
  return `Off the heat. ${overWords(careful, now)}`;
}

/** "47.0 is over 46, the ceiling for white." */
function overWords(careful: NonNullable<NowMessage['careful']>, now: Moment): string {
  const limit = `${bound(careful.limitC)}, the ceiling for ${careful.coating}.`;
  const tempC = now.estimate?.tempC ?? now.reading?.valueC ?? null;
  if (tempC === null || now.stale) return `Was over ${limit}`;
  return `${degrees(tempC)} is ${overOrAt(tempC, careful.limitC)} ${limit}`;
}

/** Somebody said that it is in temper, at a temperature that leaves no seed. */
export function noSeedSentence(tempC: number, lostC: number): Sentence {
  const detail = `${degrees(tempC)} is over ${bound(lostC)}, the limit of temper. Melted, or solid?`;
  return { ...WAITING, act: 'No seed can be left.', detail };
}

/** The same in the small print of the answer, before it is given. */
export function noSeedHint(lostC: number): string {
  return `Not now: over ${bound(lostC)} no seed is left.`;
}

/** Both questions are answered, and the run is waited for. */
export function waitingSentence({ title, condition }: NonNullable<NowMessage['waitingFor']>): Sentence {
  const stands = condition === 'tempered' ? 'already tempered' : condition;
  return { ...WAITING, act: 'Warm it gently.', detail: `${title}, ${stands}. The run begins by itself.` };
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

export const REFUSAL: Readonly<Record<RefusalReason, string>> = {
  'no-such-bowl': 'Bowlside knows no bowl of this name.',
  'too-many-screens': 'Too many screens are looking on. Close one.',
  protocol: 'This page and Bowlside are of different versions. Load the page again.',
  'shut-out': 'This screen was shut out. Load the page again, and give it a new code.',
  'shutting-down': 'Bowlside is being shut down.',
};

export function playbackRibbon(speed: number, isPlaying: boolean): string {
  if (!isPlaying) return 'Playback, standing still';
  return speed === 1 ? 'Playback, as fast as it was' : `Playback, ${speed} times as fast`;
}

/** What is judged by but printed on no bag. */
export const BOUNDS_ARE_OURS =
  'How long an alarm waits, how far the bowl must come back, and what counts as too long or too far over: ours, nowhere published.';

/** The usual cautions, short; the long form is in the handbook. */
export const CAUTIONS: readonly string[] = [
  'Hot bath: steam burns. Lift the bowl away from you, and wipe its underside dry.',
  'Keep mains parts away from splashes. No laptop on the bench edge.',
  'One probe, two chocolates: it carries milk and nuts across. Wash and dry it in between.',
  'An unchecked probe can be wrong by more than the whole band. The strip test decides.',
];

export function screensWords(screens: number): string {
  if (screens <= 1) return 'one screen';
  const SMALL = ['two', 'three', 'four', 'five', 'six'];
  return `${SMALL[screens - 2] ?? String(screens)} screens`;
}
