/** What somebody who asks may do. */
import type { IncomingMessage } from 'node:http';
import type { Socket } from 'node:net';

/** From least to most. `watch`: look on. `control`: do what is done beside the bowl. `host`: sits at the machine itself. */
export const ROLES = ['watch', 'control', 'host'] as const;
export type Role = (typeof ROLES)[number];
/** What can be given to a screen elsewhere. */
export const GUEST_ROLES = ['watch', 'control'] as const;
export type GuestRole = (typeof GUEST_ROLES)[number];

/** What something needs: a role, or none. */
export type Needed = Role | 'none';

/** null: nobody we know. */
export function may(role: Role | null, needed: Needed): boolean {
  if (needed === 'none') return true;
  return role !== null && ROLES.indexOf(role) >= ROLES.indexOf(needed);
}

/** Headers that name a go-between: then the address of the connection says nothing about who asks (RFC 7239, RFC 9110 §7.6.3, and custom). */
const GO_BETWEENS = ['forwarded', 'via', 'x-forwarded-for', 'x-forwarded-host', 'x-real-ip'];

/** Whether a request was sent at this very machine. */
export function isFromHere({ socket, headers }: IncomingMessage): boolean {
  return !GO_BETWEENS.some((name) => headers[name] !== undefined) && isOfHere(socket);
}

/** Whether a connection is this very machine's: over the loopback, or from the address it came to, which nobody else can have. */
export function isOfHere({ remoteAddress, localAddress }: Pick<Socket, 'remoteAddress' | 'localAddress'>): boolean {
  const from = plain(remoteAddress);
  return from !== '' && (from === '::1' || from.startsWith('127.') || from === plain(localAddress));
}

/** An IPv4 address as such, also where the system writes it as one of IPv6 (RFC 4291 §2.5.5.2). */
export function plain(address = ''): string {
  return address.replace(/^::ffff:(?=\d+\.)/i, '');
}
