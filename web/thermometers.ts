/** What the page asks about the thermometer: how it stands, which ports there are, and what it is to be asked. */
import type { LinkState } from '../server/core/show/wire.ts';
import { checked, type PortChoice } from './fetched.ts';
import { type Answer, ask, hasFields } from './post.ts';

/** How a question may end. */
export const ENDINGS = ['lf', 'crlf', 'cr'] as const;
export type Ending = (typeof ENDINGS)[number];

export interface Question {
  readonly text: string;
  readonly ending: Ending;
}

/**
 * Questions of the published standards: SCPI-99 vol. 2 for measure a temperature, take a reading, and fetch the last one; IEEE 488.2-1992
 * §10.14 for who are you.
 */
export const USUAL_QUESTIONS: readonly string[] = ['MEAS:TEMP?', 'READ?', 'FETC?', '*IDN?'];

/** `identity`: null where the port has none on USB: built in, or over the air. */
export interface Port extends PortChoice {
  readonly identity: object | null;
}

export async function fetchLink(bowl: string): Promise<Answer<LinkState>> {
  const answer = checked(
    await ask(`/api/bowls/${encodeURIComponent(bowl)}`),
    hasFields<{ readonly link: LinkState }>('link'),
  );
  return answer.ok ? { ok: true, value: answer.value.link } : answer;
}

export interface EveryPort {
  readonly ports: readonly Port[];
  /** Why there is none on USB, and what to do; empty: there is. */
  readonly why: string;
}

export async function fetchAllPorts(): Promise<Answer<EveryPort>> {
  return checked(await ask('/api/thermometers/all'), hasFields<EveryPort>('ports', 'why'));
}

/** `thermometer`: as the bench calls it. */
export function postQuestion(thermometer: string, question: Question): Promise<Answer<unknown>> {
  return ask(askAddress(thermometer), question);
}

export function stopAsking(thermometer: string): Promise<Answer<unknown>> {
  return ask(askAddress(thermometer), undefined, 'DELETE');
}

function askAddress(thermometer: string): string {
  return `/api/thermometers/ask?thermometer=${encodeURIComponent(thermometer)}`;
}
