/** The profiles on disk: every file of the profiles folder, and one more where a path was given. Reads; knows nothing of runs. */
import { readdirSync, readFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import type { Profile } from './core/record/profile.ts';
import { complaintText, parseProfile } from './core/record/profile-file.ts';

/** `complaints`: one line each, for the person. */
export type LoadedProfiles =
  | { readonly ok: true; readonly profiles: readonly Profile[] }
  | { readonly ok: false; readonly complaints: readonly string[] };

export type FoundProfile =
  { readonly ok: true; readonly profile: Profile } | { readonly ok: false; readonly complaints: readonly string[] };

/** A file that holds no profile, with its complaints, a line each. */
export interface LeftOut {
  readonly file: string;
  readonly complaints: readonly string[];
}

/** JSON in the folder that is no profile itself. */
const IS_SCHEMA = /\.schema\.json$/;

/** All profiles of a folder, in the order of their file names. One bad file is a complaint about all it gets wrong, and no profiles. */
export function loadProfiles(folder: string): LoadedProfiles {
  const names = namesIn(folder);
  if (names.length === 0) return { ok: false, complaints: [`${folder}: no profile is there`] };
  const read = names.map((name) => profileFromFile(join(folder, name)));
  const complaints = read.flatMap((each) => (each.ok ? [] : each.complaints));
  if (complaints.length > 0) return { ok: false, complaints };
  return { ok: true, profiles: read.flatMap((each) => (each.ok ? [each.profile] : [])) };
}

/** Profiles of a folder that may be absent, each with the name of its file; what is no profile is named and left out. */
export function readFolder(folder: string): {
  readonly found: readonly { readonly file: string; readonly profile: Profile }[];
  readonly leftOut: readonly LeftOut[];
} {
  const found: { readonly file: string; readonly profile: Profile }[] = [];
  const leftOut: LeftOut[] = [];
  for (const file of namesIn(folder)) {
    const read = profileFromFile(join(folder, file));
    if (read.ok) found.push({ file, profile: read.profile });
    else leftOut.push({ file, complaints: read.complaints });
  }
  return { found, leftOut };
}

function namesIn(folder: string): string[] {
  try {
    const names = readdirSync(folder).toSorted();
    return names.filter((name) => name.endsWith('.json') && !IS_SCHEMA.test(name));
  } catch {
    return [];
  }
}

/** A profile by its id among those known, else by the path of a file. */
export function profileNamed(name: string, known: readonly Profile[]): FoundProfile {
  const profile = known.find(({ id }) => id === name);
  if (profile !== undefined) return { ok: true, profile };
  if (!/[./\\]/.test(name)) {
    return {
      ok: false,
      complaints: [`--profile ${name}: known are ${known.map(({ id }) => id).join(', ')}, or give a file`],
    };
  }
  return profileFromFile(name);
}

function profileFromFile(path: string): FoundProfile {
  let text: string;
  try {
    text = readFileSync(path, 'utf8');
  } catch (error) {
    const missing = error instanceof Error && 'code' in error && error.code === 'ENOENT';
    return { ok: false, complaints: [`${path}: ${missing ? 'there is no such file' : 'cannot be read'}`] };
  }
  const parsed = parseProfile(text, basename(path));
  return parsed.ok ? parsed : { ok: false, complaints: parsed.complaints.map(complaintText) };
}
