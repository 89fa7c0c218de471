/**
 * A command as it arrives in a request: a profile may be named by its id, and what is said must make sense by itself.
 * The shapes are input-file.ts's; whether the command fits the run at this moment is the session's to say.
 */
import { correctionOf } from '../check/correction.ts';
import type { Command } from './command.ts';
import { commandFromJson } from './input-file.ts';
import type { Profile } from './profile.ts';
import type { Companion, Correction } from './run.ts';
import { type Complaint, shown } from './shape.ts';

export type ParsedCommand =
  { readonly ok: true; readonly command: Command } | { readonly ok: false; readonly complaint: Complaint };

/** Longest name, id or key, characters (ours). */
const TEXT_MAX_CHARS = 200;
/** A probe further off than this is broken rather than uncorrected, °C (ours). */
const OFFSET_MAX_C = 20;
/** And no thermometer's scale is this far off (ours). */
const GAIN_MIN = 0.5;
const GAIN_MAX = 2;

/**
 * A command from decoded JSON; `profiles` are those that may be named by id. The command that comes out always holds the whole profile.
 * Complaints name their place from the command on (`command.phase`). Never throws.
 */
export function parseCommand(value: unknown, profiles: readonly Profile[]): ParsedCommand {
  const given = profileId(value);
  if (given === null) return checked(value);
  const profile = profiles.find((known) => known.id === given);
  if (profile !== undefined) return checked({ ...(value as object), profile });
  const ids = profiles.map((known) => known.id).join(', ');
  return refused('command.profile', given, `one of ${ids} is wanted, or a profile in full`);
}

function profileId(value: unknown): string | null {
  if (typeof value !== 'object' || value === null || !('profile' in value)) return null;
  return typeof value.profile === 'string' ? value.profile : null;
}

function checked(value: unknown): ParsedCommand {
  const shaped = commandFromJson(value);
  if (!shaped.ok) return shaped;
  const complaint = senseComplaint(shaped.command);
  return complaint === null ? shaped : { ok: false, complaint };
}

/** What a shape alone cannot say: bounds on numbers and texts. */
function senseComplaint(command: Command): Complaint | null {
  switch (command.name) {
    case 'start':
      return lengthComplaint('command.phase', command.phase);
    case 'acknowledge':
      return command.by === undefined ? null : lengthComplaint('command.by', command.by);
    case 'assign-role':
      return channelComplaint(command.channel, 0);
    case 'set-correction':
      return (
        correctionBounds(command, 'command') ??
        (command.channel === undefined ? null : channelComplaint(command.channel)) ??
        checkComplaint(command)
      );
    default:
      return null;
  }
}

/**
 * What of a thermometer's corrections, its channels' own among them, no person could have set; null: nothing. `place`: where the
 * thermometer stands in its file, with a full stop behind; nothing where it is the file's own.
 */
export function correctionComplaint({ correction, corrections = {} }: Companion, place = ''): Complaint | null {
  const ofChannels = Object.entries(corrections).map(
    ([channel, own]) => [`corrections.${channel}.correction`, own.correction] as const,
  );
  const each = [['correction', correction] as const, ...ofChannels];
  return each.map(([at, own]) => correctionBounds(own, place + at)).find((complaint) => complaint !== null) ?? null;
}

function correctionBounds({ offsetC, gain }: Correction, path: string): Complaint | null {
  return (
    boundsComplaint(`${path}.offsetC`, offsetC, -OFFSET_MAX_C, OFFSET_MAX_C) ??
    boundsComplaint(`${path}.gain`, gain, GAIN_MIN, GAIN_MAX)
  );
}

/** A correction with a check is the one that its points give: nobody's figure may go by the name of a measured one. */
function checkComplaint({ offsetC, gain, check }: Extract<Command, { name: 'set-correction' }>): Complaint | null {
  if (check === undefined) return null;
  const due = correctionOf(check.points);
  if (due === null)
    return {
      path: 'command.check.points',
      value: 'a list',
      rule: 'points are wanted at which the probe can be believed',
    };
  if (due.offsetC === offsetC && due.gain === gain) return null;
  return {
    path: 'command.offsetC',
    value: shown(offsetC),
    rule: `its points give ${due.offsetC}, with a gain of ${due.gain}`,
  };
}

/** What is said of a channel is kept by its key, and no file of ours takes this one (`record` in `shape.ts`). */
function channelComplaint(channel: string, least = 1): Complaint | null {
  const path = 'command.channel';
  if (channel === '__proto__') return { path, value: shown(channel), rule: 'no channel is called so' };
  return lengthComplaint(path, channel, least);
}

function lengthComplaint(path: string, text: string, least = 1): Complaint | null {
  if (text.length >= least && text.length <= TEXT_MAX_CHARS) return null;
  return { path, value: shown(text), rule: `${least} to ${TEXT_MAX_CHARS} characters are wanted` };
}

function boundsComplaint(path: string, value: number, low: number, high: number): Complaint | null {
  return value >= low && value <= high ? null : { path, value: shown(value), rule: `${low} to ${high} is wanted` };
}

function refused(path: string, value: unknown, rule: string): ParsedCommand {
  return { ok: false, complaint: { path, value: shown(value), rule } };
}
