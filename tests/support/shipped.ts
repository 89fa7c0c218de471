/** The profiles that ship with Bowlside, for tests that need a real curve. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { complaintText, parseProfile } from '../../server/core/record/profile-file.ts';
import type { Profile } from '../../server/core/record/profile.ts';

/** Two folders up lie the profiles, both from here and from where the bundled figures run. */
const PROFILES = join(import.meta.dirname, '..', '..', 'profiles');

/** A shipped profile by its id; throws with the complaint where it is not in order. */
export function shipped(id: string): Profile {
  const file = join(PROFILES, `${id}.json`);
  const parsed = parseProfile(readFileSync(file, 'utf8'), file);
  if (!parsed.ok) throw new Error(parsed.complaints.map(complaintText).join('\n'));
  return parsed.profile;
}
