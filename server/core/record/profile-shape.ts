/** A profile inside a larger file or request: checked by the profile's own rules, written in its own key order. */
import { profileFromJson } from './profile-file.ts';
import type { Phase, Profile } from './profile.ts';
import { type Fields, finite, list, object, optional, record, type Shape, text } from './shape.ts';

const PHASE: Fields<Phase> = {
  id: text,
  heading: text,
  bandC: list(finite),
  ceilingC: optional(finite),
  floorC: optional(finite),
  holdS: optional(finite),
  lostAboveC: optional(finite),
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
