/** What went into a run, as it would have been under another profile. */
import type { RecordedInput } from '../core/record/input.ts';
import type { Profile } from '../core/record/profile.ts';
import { phaseIndex } from '../core/show/course.ts';

/** The input as if this profile had been chosen all along; a start at a phase it does not have is one at its first. */
export function under(profile: Profile, input: RecordedInput): RecordedInput {
  if (input.kind !== 'command') return input;
  const { command } = input;
  if (command.name === 'choose-profile') return { ...input, command: { ...command, profile } };
  if (command.name !== 'start' || phaseIndex(profile, command.phase) !== -1) return input;
  return { ...input, command: { ...command, phase: profile.phases[0]!.id } };
}
