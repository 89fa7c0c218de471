/**
 * How the thermometer's link stands, as a sentence: its cause as the act line where nothing can be read, and what to do about it. The
 * causes come from the server, which knows the ports; here is what each asks of the person. Pure.
 */
import type { LinkState, NowMessage } from '../../../server/core/show/wire.ts';
import type { Sentence } from './sentence.ts';
import { span } from '../measure.ts';

export type LinkNow = Pick<NowMessage, 'link' | 'lastLine' | 'rejected' | 'reading' | 'atMs' | 'stale'>;

/** So many lines without one usable among them, and it is the speed or the format (ours: a power-on banner is shorter). */
const UNREADABLE_LINES = 5;

/** What the link asks for; null: it is up and speaks, or nobody can tell. */
export function linkSentence(now: LinkNow): Pick<Sentence, 'act' | 'detail'> | null {
  const { link } = now;
  switch (link.state) {
    case 'simulated':
      return null;
    case 'up':
      return now.reading === null || now.stale ? upWords(now) : null;
    case 'looking':
      return link.why === ''
        ? { act: 'Plug in the thermometer.', detail: 'It is used by itself.' }
        : causeAndAct(link.why);
    case 'down': {
      const { act, detail } = causeAndAct(link.why);
      return { act, detail: `${detail}${again(link)}` };
    }
  }
}

/** Open, but nothing of it can be used: silent, or not to be understood. */
function upWords({ link, rejected, lastLine, reading }: LinkNow): Pick<Sentence, 'act' | 'detail'> | null {
  if (link.state === 'up' && link.why !== undefined) return causeAndAct(link.why);
  if (reading === null && (rejected['ambiguous'] ?? 0) >= UNREADABLE_LINES)
    return { act: 'It can be read in two ways.', detail: 'Say which is meant: “What it says”, beside the number.' };
  const unread = Object.values(rejected).reduce((sum, count) => sum + count, 0);
  if (lastLine !== null && reading === null && unread >= UNREADABLE_LINES) {
    return {
      act: 'It speaks, but not clearly.',
      detail: `It says “${sampleOf(lastLine)}”. Its leaflet tells how to set it to plain numbers.`,
    };
  }
  if (reading === null && lastLine === null) {
    return { act: 'Plugged in, but silent.', detail: 'Is it switched on? It may speak only when asked.' };
  }
  return null;
}

/** The longest piece of a line worth showing, characters (ours: half of the detail line). */
const SAMPLE_CHARS = 16;

/** Nothing that is no plain character; the start of a long one. */
export function sampleOf(line: string): string {
  const plain = line.replaceAll(/[^\x20-\x7e]/g, '·').trim();
  return plain.length > SAMPLE_CHARS ? `${plain.slice(0, SAMPLE_CHARS)}…` : plain;
}

/** Where a reason names no act of its own. */
const CHECK = 'Check its plug and its cable.';

/** A reason is its cause in the first sentence, and what to do in the rest. */
export function causeAndAct(why: string): Pick<Sentence, 'act' | 'detail'> {
  const end = /[.?](?= \p{Lu})/u.exec(why);
  if (end === null) return { act: readable(why), detail: CHECK };
  return { act: readable(why.slice(0, end.index + 1)), detail: why.slice(end.index + 2) };
}

/** Of a long path the end: there one port differs from another. Whole ones stand where thermometers are chosen. */
function readable(cause: string): string {
  return cause.replace(/(\/\w+\/)\S{16,}(\S{24})/, '$1…$2');
}

function again({ retryInMs }: Extract<LinkState, { state: 'down' }>): string {
  return retryInMs === null ? '' : ` Trying again in ${span(Math.max(1, retryInMs / 1000))}.`;
}
