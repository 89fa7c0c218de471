/** Who may come in, in the test's hands: guests in a folder of their own, and a gate that takes whoever the test says for the machine itself. */
import { randomUUID } from 'node:crypto';
import { Gate } from '../../server/pairing/gate.ts';
import { Guests } from '../../server/pairing/guests.ts';
import type { isFromHere } from '../../server/pairing/role.ts';
import { freshFolder } from './store.ts';

export interface Doorkeeper {
  readonly guests: Guests;
  readonly gate: Gate;
}

/** `isHere`: without it, what comes over the loopback address, as every test does. */
export function doorkeeper(
  folder: string = freshFolder(),
  isHere?: typeof isFromHere,
  nowMs = (): number => performance.now(),
): Doorkeeper {
  const guests = new Guests({ folder, nowMs, wallNowMs: Date.now, newId: randomUUID });
  return { guests, gate: new Gate(guests, nowMs, isHere) };
}
