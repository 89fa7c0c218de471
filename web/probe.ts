/** What the page asks of the thermometers of a bowl: what is known of each probe, and how a check of one stands. */
import type { CheckAsked, CheckStands, ProbeKnown } from '../server/core/check/told.ts';
import { checked } from './fetched.ts';
import { type Answer, ask, hasFields } from './post.ts';

function addressOf(bowl: string): string {
  return `/api/bowls/${encodeURIComponent(bowl)}`;
}

export async function fetchProbe(bowl: string): Promise<Answer<ProbeKnown>> {
  return checked(await ask(`${addressOf(bowl)}/probe`), hasFields<ProbeKnown>('probes', 'atC', 'numbers'));
}

export async function askCheck(bowl: string, asked: CheckAsked): Promise<Answer<CheckStands>> {
  const answer = await ask(`${addressOf(bowl)}/check`, asked);
  return checked(answer, hasFields<CheckStands>('steadiness', 'reference', 'point', 'outcome', 'atWall'));
}

export function leaveCheck(bowl: string): Promise<Answer<unknown>> {
  return ask(`${addressOf(bowl)}/check`, undefined, 'DELETE');
}
