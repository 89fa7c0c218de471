/**
 * What people say of a run as a whole: its card. Kept as a list of entries that only grows; the card is what they add up to.
 * Trace and log do not depend on it.
 */
import { RUN_NAME_MAX_CHARS } from '../show/listed.ts';
import {
  type Fields,
  flag,
  list,
  object,
  oneOf,
  optional,
  orNull,
  type Shape,
  textUpTo,
  wallTime,
  within,
} from './shape.ts';

/** How the coated pieces were left to set: in cool moving air or at room temperature (design: the job, 8). */
export const SETTING_PLACES = ['cool-air', 'room'] as const;
export type SettingPlace = (typeof SETTING_PLACES)[number];

export interface Setting {
  readonly place: SettingPlace;
  readonly startedAtWall: string;
  readonly minutes: number;
}

/** How good it came out, all in all. */
export const VERDICTS = ['good', 'usable', 'failed'] as const;
export type Verdict = (typeof VERDICTS)[number];

export const GLOSSES = ['glossy', 'satin', 'dull'] as const;
export const SNAPS = ['clean', 'weak', 'bends'] as const;
export const RELEASES = ['by-itself', 'with-help', 'sticks'] as const;

/** What was found when the pieces had rested. null: not looked at. */
export interface Outcome {
  readonly verdict: Verdict;
  readonly gloss: (typeof GLOSSES)[number] | null;
  readonly snap: (typeof SNAPS)[number] | null;
  /** Out of a mould or off the sheet. */
  readonly release: (typeof RELEASES)[number] | null;
  readonly streaks: boolean | null;
  /** Grey that melts under a finger, and a rough one that does not (`domain.md` §9). */
  readonly fatBloom: boolean | null;
  readonly sugarBloom: boolean | null;
  /** Stays soft, or melts at a touch. */
  readonly soft: boolean | null;
  readonly words: string | null;
}

export interface Card {
  /** What this run is called; null: by its profile. */
  readonly name: string | null;
  /** What was coated. */
  readonly centre: string | null;
  readonly lot: string | null;
  readonly kg: number | null;
  readonly tags: readonly string[];
  readonly allergens: string | null;
  readonly roomC: number | null;
  /** Relative humidity, per cent. */
  readonly roomHumidity: number | null;
  readonly signedBy: string | null;
  readonly setting: Setting | null;
  readonly outcome: Outcome | null;
}

/** One change: the fields named in it take the place of what they were. */
export interface CardEntry {
  readonly writtenAtWall: string;
  readonly by: string | null;
  readonly change: Partial<Card>;
}

export const EMPTY_CARD: Card = {
  name: null,
  centre: null,
  lot: null,
  kg: null,
  tags: [],
  allergens: null,
  roomC: null,
  roomHumidity: null,
  signedBy: null,
  setting: null,
  outcome: null,
};

export function cardOf(entries: readonly CardEntry[]): Card {
  return entries.reduce((card, { change }) => ({ ...card, ...change }), EMPTY_CARD);
}

/** Longest tag, longest free words, characters; most tags; heaviest bowl, kg (ours: a run sheet is one page). */
const TAG_MAX_CHARS = 40;
const WORDS_MAX_CHARS = 2_000;
const TAGS_MOST = 20;
const KG_MOST = 1_000;
/** Setting takes 10 to 30 min (design: the job, 8); a day is a slip (ours). */
const SETTING_MOST_MIN = 24 * 60;

const name = textUpTo(RUN_NAME_MAX_CHARS);
const seen = orNull(flag);

const SETTING: Fields<Setting> = {
  place: oneOf(SETTING_PLACES),
  startedAtWall: wallTime,
  minutes: within(1, SETTING_MOST_MIN),
};

const OUTCOME: Fields<Outcome> = {
  verdict: oneOf(VERDICTS),
  gloss: orNull(oneOf(GLOSSES)),
  snap: orNull(oneOf(SNAPS)),
  release: orNull(oneOf(RELEASES)),
  streaks: seen,
  fatBloom: seen,
  sugarBloom: seen,
  soft: seen,
  words: orNull(textUpTo(WORDS_MAX_CHARS)),
};

const CARD: Fields<Card> = {
  name: orNull(name),
  centre: orNull(name),
  lot: orNull(name),
  kg: orNull(within(0.001, KG_MOST)),
  tags: list(textUpTo(TAG_MAX_CHARS), TAGS_MOST),
  allergens: orNull(textUpTo(WORDS_MAX_CHARS)),
  roomC: orNull(within(-20, 60)),
  roomHumidity: orNull(within(0, 100)),
  signedBy: orNull(name),
  setting: orNull(object(SETTING)),
  outcome: orNull(object(OUTCOME)),
};

/** The whole card, as it stands. */
export const cardShape: Shape = object(CARD);

const CHANGE = Object.fromEntries(Object.entries(CARD).map(([key, shape]) => [key, optional(shape)]));

export const cardChangeShape: Shape = object(CHANGE);

const ENTRY: Fields<CardEntry> = { writtenAtWall: wallTime, by: orNull(name), change: cardChangeShape };

export const cardEntryShape: Shape = object(ENTRY);
