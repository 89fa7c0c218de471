/**
 * Between the door and what lies behind it: who asks, and may they? At this machine everybody may do everything; over a network a screen
 * shows the pass it was given. Knows requests, no web framework.
 */
import type { IncomingMessage } from 'node:http';
import { plain, type Role, isFromHere } from './role.ts';
import type { Guest, Guests } from './guests.ts';
import { Tries } from './tries.ts';

export interface Visitor {
  /** null: not let in. */
  readonly role: Role | null;
  /** Who was let in over the network; null: nobody, or somebody at this machine. */
  readonly guest: Guest | null;
  /** Of this machine, where the request came in. */
  readonly cameTo: string;
  readonly address: string;
}

/** Requests over the network from one address: a page being loaded, and then what a hurried hand asks (ours). */
const REQUESTS = { most: 240, everyMs: 50 };

export class Gate {
  readonly #guests: Pick<Guests, 'guestOf' | 'isGuest'>;
  readonly #isFromHere: (request: IncomingMessage) => boolean;
  readonly #requests: Tries;

  /** `isHere`: as it is tested where there is but one machine. */
  constructor(guests: Pick<Guests, 'guestOf' | 'isGuest'>, nowMs: () => number, isHere = isFromHere) {
    this.#guests = guests;
    this.#isFromHere = isHere;
    this.#requests = new Tries(REQUESTS, nowMs);
  }

  visitorOf(request: IncomingMessage): Visitor {
    const at = { cameTo: plain(request.socket.localAddress), address: plain(request.socket.remoteAddress) };
    if (this.#isFromHere(request)) return { role: 'host', guest: null, ...at };
    const pass = passIn(request);
    const guest = pass === null ? null : this.#guests.guestOf(pass);
    return { role: guest?.role ?? null, guest, ...at };
  }

  /** Whether somebody who was let in still is: not shut out, and not past the time. */
  isStillIn({ guest }: Visitor): boolean {
    return guest === null || this.#guests.isGuest(guest.id);
  }

  /** False: too many at once from there. */
  lets({ role, address }: Visitor): boolean {
    return role === 'host' || this.#requests.take(address);
  }
}

/** Cookies are told apart by host and not by port: the name says which of two servers on a machine it is for. */
export function passCookie(port: number): string {
  return `bowlside-${port}`;
}

/** The pass of this server among the request's cookies; null where there is none, or more than one. */
function passIn(request: IncomingMessage): string | null {
  const name = passCookie(request.socket.localPort ?? 0);
  const found = (request.headers.cookie ?? '')
    .split(';')
    .map((pair) => pair.trim())
    .filter((pair) => pair.startsWith(`${name}=`));
  return found.length === 1 ? found[0]!.slice(name.length + 1) : null;
}
