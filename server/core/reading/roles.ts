/** Which channel of a line is the chocolate, which the bath, which the room. */
import type { Role } from '../record/command.ts';
import type { ValuesC } from '../record/input.ts';
import type { Channel } from './channel.ts';

/** Roles given by a person win; then a label that names one; the first channel left over is the chocolate, others are ignored. */
export function valuesByRole(channels: readonly Channel[], roles: Readonly<Record<string, Role>>): ValuesC {
  const values: { chocolate?: number; bath?: number; room?: number } = {};
  const unnamed: Channel[] = [];
  for (const channel of channels) {
    const role = Object.hasOwn(roles, channel.key) ? roles[channel.key]! : roleByLabel(channel.key);
    if (role === null) unnamed.push(channel);
    else if (role !== 'ignored') values[role] ??= channel.valueC;
  }
  const first = unnamed[0];
  if (first !== undefined) values.chocolate ??= first.valueC;
  return values;
}

function roleByLabel(key: string): Role | null {
  if (/\b(bath|water)\b/.test(key)) return 'bath';
  if (/\b(room|ambient|air)\b/.test(key)) return 'room';
  return null;
}
