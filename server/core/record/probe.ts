/** What is known of the thermometers of a run, and what of it a person's command changes. */
import type { Command } from './command.ts';
import { type Companion, type Corrected, FIRST_LEFT, NO_CORRECTION, type RunHeader } from './run.ts';
import type { Sensors } from './sensor.ts';

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
export function companionOf({ correction, check, corrections, roles, sensors, decimalComma }: Companion): Companion {
  return {
    correction,
    roles,
    decimalComma,
    ...(check && { check }),
    ...(corrections && { corrections }),
    ...(sensors && { sensors }),
  };
}

/** Channels that something was said of. */
export function channelsNamed({ roles, sensors = {}, corrections = {} }: Companion): ReadonlySet<string> {
  return new Set([roles, sensors, corrections].flatMap((said) => Object.keys(said)));
}

/**
 * How a channel's values are corrected: as it is itself, else as its thermometer is. What is said of the chocolate's thermometer is of its
 * chocolate alone; what is said of a companion, of whatever it gives. `channel` null: nothing tells the channels apart.
 */
export function correctedOf(known: Companion, channel: string | null, isMeant: boolean): Corrected {
  const { correction, check = null, corrections } = known;
  if (channel !== null && corrections !== undefined && Object.hasOwn(corrections, channel))
    return corrections[channel]!;
  return isMeant ? { correction, check } : UNCORRECTED;
}

const UNCORRECTED: Corrected = { correction: NO_CORRECTION, check: null };

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
      const { offsetC, gain, check = null, channel } = command;
      const correction = { offsetC, gain };
      if (channel !== undefined)
        return { ...known, corrections: { ...known.corrections, [channel]: { correction, ...(check && { check }) } } };
      const isChecked = check !== null || (known.check ?? null) !== null;
      return { ...known, correction, ...(isChecked && { check }) };
    }
  }
}

/**
 * A check holds for what was checked: the chocolate by another channel, or by another way to make its temperature, is unchecked. Of a channel
 * that was checked by itself it is the channel's, whatever that is in.
 */
function withRole<Known extends Companion>(
  known: Known,
  { channel, role, sensor }: Extract<Command, { name: 'assign-role' }>,
): Known {
  const before = known.roles[channel] ?? (channel === FIRST_LEFT ? 'chocolate' : undefined);
  const isOther = (role === 'chocolate') !== (before === 'chocolate');
  const isUnchecked = (isOther || sensor !== undefined) && (known.check ?? null) !== null;
  return {
    ...known,
    roles: { ...known.roles, [channel]: role },
    ...(sensor !== undefined && { sensors: { ...known.sensors, [channel]: sensor } }),
    ...(sensor !== undefined &&
      known.corrections && { corrections: withoutChecks(known.corrections, channel, known.sensors) }),
    ...(isUnchecked && { check: null }),
  };
}

/** Of the channel itself, and of those whose cold end it is. */
function withoutChecks(
  corrections: NonNullable<Companion['corrections']>,
  channel: string,
  sensors: Sensors = {},
): Companion['corrections'] {
  const hangsOn = (key: string): boolean => {
    const sensor = Object.hasOwn(sensors, key) ? sensors[key]! : null;
    return sensor?.kind === 'thermocouple' && sensor.cold.from === 'channel' && sensor.cold.channel === channel;
  };
  const changed = Object.entries(corrections).map(
    ([key, { correction, check }]) =>
      [key, key === channel || hangsOn(key) ? { correction } : { correction, ...(check && { check }) }] as const,
  );
  return Object.fromEntries(changed);
}
