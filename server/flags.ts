/** What the flags say of profile and phase, held against the profiles on disk. Opens nothing else. */
import type { Config } from './config.ts';
import { phaseIndex } from './core/show/course.ts';
import type { Profile } from './core/record/profile.ts';
import { loadProfiles, profileNamed } from './profiles.ts';
import type { Choice } from './session/idle.ts';

export interface Flagged {
  /** All that ship; a file that was named stands first among them. At least one. */
  readonly profiles: readonly Profile[];
  /** What is chosen from the start: a simulated bowl holds something in any case, a real one only what was said. */
  readonly choices: { readonly simulated: Choice & { readonly profile: Profile }; readonly real: Choice };
}

export type ReadFlags =
  { readonly ok: true; readonly flagged: Flagged } | { readonly ok: false; readonly complaints: readonly string[] };

type Flags = Pick<Config, 'profile' | 'startAt' | 'simulate'>;

/**
 * A profile with an error, a name that is none, a phase that the profile does not have: one line each. `own`: profiles that can be named
 * besides those that ship.
 */
export function readFlags(flags: Flags, profilesFolder: string, own: readonly Profile[] = []): ReadFlags {
  const loaded = loadProfiles(profilesFolder);
  if (!loaded.ok) return loaded;
  const named = flags.profile === null ? null : profileNamed(flags.profile, [...loaded.profiles, ...own]);
  if (named?.ok === false) return named;
  const chosen = named?.profile ?? null;
  const held = chosen ?? usualProfile(loaded.profiles);
  const complaint = phaseComplaint(flags, chosen ?? (flags.simulate ? held : null));
  if (complaint !== null) return { ok: false, complaints: [complaint] };
  const others = loaded.profiles.filter(({ id }) => id !== chosen?.id);
  const profiles = chosen === null || own.includes(chosen) ? others : [chosen, ...others];
  return { ok: true, flagged: { profiles, choices: choicesOf(chosen, held, flags.startAt) } };
}

/** What the simulated bowl holds where nobody says (design: With no thermometer). */
function usualProfile(profiles: readonly Profile[]): Profile {
  return profiles.find(({ id }) => id === 'dark') ?? profiles[0]!;
}

function phaseComplaint({ startAt }: Flags, profile: Profile | null): string | null {
  if (startAt === null || profile === null || phaseIndex(profile, startAt) >= 0) return null;
  return `--start-at ${startAt}: ${profile.id} has the phases ${profile.phases.map(({ id }) => id).join(', ')}`;
}

function choicesOf(chosen: Profile | null, held: Profile, startAt: string | null): Flagged['choices'] {
  const answer = startAt === null ? null : { startAt };
  return {
    simulated: { profile: held, answer: answer ?? { condition: 'solid' }, atOnce: true },
    real: { profile: chosen, answer, atOnce: false },
  };
}
