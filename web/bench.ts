/** What the page asks about the bench: its bowls, and what each thermometer is in. */
import type { Role } from '../server/core/record/command.ts';
import type { BowlLabel, LinkState } from '../server/core/show/wire.ts';
import { checked } from './fetched.ts';
import { type Answer, ask, hasFields } from './post.ts';

/** As the server tells them (`server/routes/bench.ts`). */
export interface BenchChannel {
  readonly channel: string;
  readonly valueC: number | null;
  readonly role: Role;
  readonly bowls: readonly string[];
}

export interface BenchThermometer {
  readonly thermometer: string;
  readonly simulated: boolean;
  readonly link: LinkState;
  readonly channels: readonly BenchChannel[];
  readonly mayPutAway: boolean;
}

export interface Bench {
  readonly bowls: readonly BowlLabel[];
  readonly bowlsMost: number;
  readonly thermometers: readonly BenchThermometer[];
}

export async function fetchBench(): Promise<Answer<Bench>> {
  return checked(await ask('/api/bench'), hasFields<Bench>('bowls', 'bowlsMost', 'thermometers'));
}

export function addBowl(): Promise<Answer<unknown>> {
  return ask('/api/bench/bowls', { name: null });
}

export function nameBowl(bowl: string, name: string): Promise<Answer<unknown>> {
  return ask(`/api/bench/bowls/${encodeURIComponent(bowl)}`, { name: name.trim() === '' ? null : name }, 'PUT');
}

export function takeBowlAway(bowl: string): Promise<Answer<unknown>> {
  return ask(`/api/bench/bowls/${encodeURIComponent(bowl)}`, undefined, 'DELETE');
}

/** `bowls`: whose chocolate or bath; of no moment for the room. */
export interface ChannelPlace {
  readonly role: Role;
  readonly bowls: readonly string[];
}

export function putChannel(thermometer: string, channel: string, place: ChannelPlace): Promise<Answer<unknown>> {
  return ask('/api/bench/places', { thermometer, channel, ...place });
}

export function putThermometerAway(thermometer: string): Promise<Answer<unknown>> {
  return ask(`/api/bench/thermometers/${encodeURIComponent(thermometer)}`, undefined, 'DELETE');
}
