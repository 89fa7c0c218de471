/** What is said while no run goes: what is asked of the chocolate, and how the thermometer stands. */
import type { LinkState, NowMessage, RefusalReason } from '../../../server/core/show/wire.ts';
import { bound, degrees } from '../measure.ts';
import { sampleOf } from './link.ts';
import type { Moment, Sentence } from './sentence.ts';
import { overWords } from './run-strips.ts';
import { WAITING } from './states.ts';

/** How the thermometer stands, in plain words. */
export function linkWords(link: LinkState | null): string {
  if (link === null) return 'Asking Bowlside how the thermometer stands.';
  switch (link.state) {
    case 'up': {
      if (link.why?.startsWith(link.label) === true) return link.why;
      return `Thermometer connected: ${link.label}.${heardWords(link)}${link.why === undefined ? '' : ` ${link.why}`}`;
    }
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

/** Nobody has said which chocolate it is, and one of them would burn: what to do, and which. */
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

export const REFUSAL: Readonly<Record<RefusalReason, string>> = {
  'no-such-bowl': 'Bowlside knows no bowl of this name.',
  'too-many-screens': 'Too many screens are looking on. Close one.',
  protocol: 'This page and Bowlside are of different versions. Load the page again.',
  'shut-out': 'This screen was shut out. Load the page again, and give it a new code.',
  'shutting-down': 'Bowlside is being shut down.',
};
