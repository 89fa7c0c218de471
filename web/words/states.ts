/** What the page says about itself: the thermometer's link, this screen's link, simulation, playback, sound, cautions. */
import type { LinkState, NowMessage, RefusalReason } from '../../server/core/show/wire.ts';
import { bound, degrees } from './measure.ts';
import type { Moment, Sentence } from './sentence.ts';

export const SIMULATED_RIBBON = 'Simulated bowl. No thermometer found.';
export const SOUND_OFF = { title: 'Sound is off.', detail: 'No alarm will be heard.', button: 'Turn it on and test' };

/** How the thermometer stands, in plain words. */
export function linkWords(link: LinkState | null): string {
  if (link === null) return 'Asking Bowlside how the thermometer stands.';
  switch (link.state) {
    case 'up':
      return `Thermometer connected: ${link.label}.`;
    case 'simulated':
      return 'This is the simulated bowl. A thermometer you plug in is used by itself.';
    case 'looking':
      return link.why === '' ? 'Waiting for your thermometer.' : link.why;
    case 'down': {
      const again =
        link.retryInMs === null ? '' : ` Trying again in ${Math.max(1, Math.round(link.retryInMs / 1000))} s.`;
      return `${link.why}${again}`;
    }
  }
}

/** Nobody has said which chocolate it is, and one of them would burn: what to do, and which. An old number is told as one. */
export function carefulSentence(careful: NonNullable<NowMessage['careful']>, now: Moment): Sentence {
  const limit = `${bound(careful.limitC)}, the ceiling for ${careful.coating}. Which is it?`;
  const tempC = now.estimate?.tempC ?? now.reading?.valueC ?? null;
  const detail =
    tempC === null || now.stale
      ? `Was over ${limit}`
      : `${degrees(tempC)} is ${overOrAt(tempC, careful.limitC)} ${limit}`;
  return { act: 'Off the heat now.', detail, later: [], area: 'band', arm: 'up', leftS: null };
}

/** As the shown figures say it: inside the dead band it may be neither over nor at. */
function overOrAt(tempC: number, limitC: number): string {
  const [shown, limit] = [Number(degrees(tempC)), limitC];
  if (shown > limit) return 'over';
  return shown === limit ? 'at' : 'just under';
}

export const WAITING: Sentence = {
  act: 'One moment.',
  detail: 'Asking Bowlside about the bowl.',
  later: [],
  area: 'words',
  arm: null,
  leftS: null,
};

/** `lastTrue`: clock time of the last word from the server, empty where there was none. */
export function lostSentence(lastTrue: string): Sentence {
  const detail = lastTrue === '' ? 'Trying to reach it.' : `Last true at ${lastTrue}. Trying again.`;
  return { act: 'This screen has lost Bowlside.', detail, later: [], area: 'words', arm: null, leftS: null };
}

export const REFUSAL: Readonly<Record<RefusalReason, string>> = {
  'no-such-bowl': 'Bowlside knows no bowl of this name.',
  'too-many-screens': 'Too many screens are looking on. Close one.',
  protocol: 'This page and Bowlside are of different versions. Load the page again.',
  'shutting-down': 'Bowlside is being shut down.',
};

export function playbackRibbon(speed: number, isPlaying: boolean): string {
  if (!isPlaying) return 'Playback, standing still';
  return speed === 1 ? 'Playback, as fast as it was' : `Playback, ${speed} times as fast`;
}

/** The usual cautions, short; the long form is in the handbook. */
/** What is judged by but printed on no bag. */
export const BOUNDS_ARE_OURS =
  'How long an alarm waits, how far the bowl must come back, and what counts as too long or too far over: ours, nowhere published.';

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
