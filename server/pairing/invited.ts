/** What the terminal says of other screens when the server starts where a network can reach it: a code, and its picture for a telephone. */
import { isLoopback } from '../visitors.ts';
import { type At, invitationLink, reachedAt } from './addresses.ts';
import { type Guests, INVITATION_MS } from './guests.ts';
import { lettersOf } from './picture.ts';

const MINUTE_MS = 60_000;

/** Lines; none where only this machine can reach it. Makes one code, with which a screen may take part. */
export function invited(guests: Pick<Guests, 'invite'>, at: At): string[] {
  if (isLoopback(at.host)) return [];
  const [address, ...others] = reachedAt(at, null);
  if (address === undefined) return ['No network is connected: no other screen can come.'];
  const { code } = guests.invite('control');
  const link = invitationLink(address, code);
  return [
    `For a screen that may take part, within ${INVITATION_MS / MINUTE_MS} minutes: ${link}`,
    ...lettersOf(link),
    ...(others.length === 0 ? [] : [`This machine is also ${others.join(', ')}.`]),
    'More codes, also for those who only look on: on this machine under More, Other screens.',
  ];
}
