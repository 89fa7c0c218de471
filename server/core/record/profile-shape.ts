/** A profile inside a larger file or request: checked by the profile's own rules, written in its own key order. */
import { HEADINGS, MAX_HOLD_S, PROFILE_RANGE_C, profileFromJson } from './profile-file.ts';
import type { Phase, Profile } from './profile.ts';
import { type Fields, list, object, oneOf, optional, record, type Shape, textUpTo, tuple, within } from './shape.ts';

const text = textUpTo(Infinity);
const degrees = within(...PROFILE_RANGE_C);

const PHASE: Fields<Phase> = {
  id: text,
  heading: oneOf(HEADINGS),
  bandC: tuple(degrees, degrees),
  ceilingC: optional(degrees),
  floorC: optional(degrees),
  holdS: optional(within(0, MAX_HOLD_S)),
  lostAboveC: optional(degrees),
  cue: optional(text),
};

const PROFILE: Fields<Profile> = {
  id: text,
  title: text,
  coating: text,
  source: text,
  sources: optional(record(text)),
  onLost: optional(text),
  phases: list(object(PHASE)),
};

const PLAIN = object(PROFILE);

/** The first of the profile's complaints, placed under where the profile stands. */
export const profileShape: Shape = {
  check: (value, path) => {
    const parsed = profileFromJson(value, '');
    if (parsed.ok) return null;
    const first = parsed.complaints[0]!;
    return { ...first, path: [path, first.path].filter((part) => part !== '').join('.') };
  },
  write: PLAIN.write,
  schema: PLAIN.schema,
};
