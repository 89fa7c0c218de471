/** What is known of the thermometers of a run, and what of it a person's command changes. */
import type { Command } from './command.ts';
import type { Companion, RunHeader } from './run.ts';

/** What is known of the probe, and of those beside it; it outlives a run. */
export type Probe = Pick<RunHeader, 'probeLagS' | 'companions'> & Companion;

/** The commands that say something of a thermometer. */
export type OfProbe = Extract<Command, { name: 'assign-role' | 'choose-reading' | 'set-correction' }>;

export function isOfProbe(command: Command): command is OfProbe {
  return command.name === 'assign-role' || command.name === 'choose-reading' || command.name === 'set-correction';
}

/** Of the chocolate's thermometer alone. */
export function probeOf({ probeLagS, ...header }: RunHeader): Omit<Probe, 'companions'> {
  return { probeLagS, ...companionOf(header) };
}

/** What of it can be known of any thermometer, wherever it stands. */
export function companionOf({ correction, check, roles, sensors, decimalComma }: Companion): Companion {
  return { correction, roles, decimalComma, ...(check && { check }), ...(sensors && { sensors }) };
}

/** The probe as a command makes it known; the same probe for a command that is about something else, another thermometer too. */
export function probeAfter<Known extends Companion>(probe: Known, command: Command): Known {
  return isOfProbe(command) && command.source === undefined ? knownAfter(probe, command) : probe;
}

/** The thermometer that the command means, as it makes it known. */
export function knownAfter<Known extends Companion>(known: Known, command: OfProbe): Known {
  switch (command.name) {
    case 'assign-role':
      return withRole(known, command);
    case 'choose-reading':
      return { ...known, decimalComma: command.decimalComma };
    case 'set-correction': {
      const { offsetC, gain, check = null } = command;
      const isChecked = check !== null || (known.check ?? null) !== null;
      return { ...known, correction: { offsetC, gain }, ...(isChecked && { check }) };
    }
  }
}

/** A check holds for what was checked: the chocolate by another channel, or by another way to make its temperature, is unchecked. */
function withRole<Known extends Companion>(
  known: Known,
  { channel, role, sensor }: Extract<Command, { name: 'assign-role' }>,
): Known {
  const isOther = (role === 'chocolate') !== (known.roles[channel] === 'chocolate');
  const isUnchecked = (isOther || sensor !== undefined) && (known.check ?? null) !== null;
  return {
    ...known,
    roles: { ...known.roles, [channel]: role },
    ...(sensor !== undefined && { sensors: { ...known.sensors, [channel]: sensor } }),
    ...(isUnchecked && { check: null }),
  };
}
