/** What the page asks of profiles: lists, checks, and what is to be kept. What is right in one is the server's to say. */
import type { Profile } from '../server/core/record/profile.ts';
import type { Draft } from './draft.ts';
import { checked, isListOf } from './fetched.ts';
import { type Answer, ask, hasFields } from './post.ts';

/** What is wrong at one place of a profile. */
export interface Wrong {
  readonly path: string;
  readonly rule: string;
}

export interface Shelf {
  readonly profiles: readonly Profile[];
  /** Ids of one's own. */
  readonly ids: readonly string[];
  /** Files among one's own that are no profile. */
  readonly leftOut: readonly { readonly file: string; readonly complaints: readonly string[] }[];
}

/** One figure as it is printed, or two. */
export type BagFigure = number | readonly [number, number] | string;

export interface BagFigures {
  readonly title: string;
  readonly coating: string;
  readonly meltC: BagFigure;
  readonly coolC: BagFigure;
  readonly workC: BagFigure;
}

const isProfile = hasFields<Profile>('id', 'title', 'coating', 'source', 'phases');

export async function fetchShelf(): Promise<Answer<Shelf>> {
  const [all, own] = await Promise.all([ask('/api/profiles'), ask('/api/profiles/own')]);
  const profiles = checked(all, isListOf(isProfile));
  const rest = checked(own, hasFields<Omit<Shelf, 'profiles'>>('ids', 'leftOut'));
  if (!profiles.ok) return profiles;
  return rest.ok ? { ok: true, value: { profiles: profiles.value, ...rest.value } } : rest;
}

export async function checkDraft(draft: Draft): Promise<Answer<readonly Wrong[]>> {
  const answer = checked(
    await ask('/api/profiles/check', draft),
    hasFields<{ readonly complaints: unknown }>('complaints'),
  );
  if (!answer.ok) return answer;
  return checked({ ok: true, value: answer.value.complaints }, isListOf(hasFields<Wrong>('path', 'rule')));
}

export async function fromBag(bag: BagFigures): Promise<Answer<Profile>> {
  return checked(await ask('/api/profiles/bag', bag), isProfile);
}

export async function addProfile(profile: Profile): Promise<Answer<Profile>> {
  return checked(await ask('/api/profiles', profile), isProfile);
}

export async function copyProfile(id: string, title: string): Promise<Answer<Profile>> {
  return checked(await ask(`${addressOf(id)}/copies`, { title }), isProfile);
}

export async function changeProfile(draft: Draft): Promise<Answer<Profile>> {
  return checked(await ask(addressOf(draft.id), draft, 'PUT'), isProfile);
}

export function deleteProfile(id: string): Promise<Answer<unknown>> {
  return ask(addressOf(id), undefined, 'DELETE');
}

function addressOf(id: string): string {
  return `/api/profiles/${encodeURIComponent(id)}`;
}
