/** What a long run holds, gone through a little at a time: whoever does so lets a bowl that is watched have its turn in between. */
import { type Channel, channelsAmong } from '../core/record/csv.ts';
import type { Reading } from '../core/record/run.ts';

/** Which channels were read at all; stops after each reading. */
export function* channelsOf(readings: Iterable<Reading>): Generator<void, Channel[]> {
  const roles = new Set<string>();
  for (const { role } of readings) {
    roles.add(role);
    yield;
  }
  return channelsAmong(roles);
}

/** All pieces as one text; stops after each. */
export function* gathered(pieces: Iterable<string>): Generator<void, string> {
  const all: string[] = [];
  for (const piece of pieces) {
    all.push(piece);
    yield;
  }
  return all.join('');
}
