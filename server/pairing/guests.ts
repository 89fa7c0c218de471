/**
 * Who is let in over a network: invitations, which are codes that hold for minutes, and guests, the screens that came with one and carry a
 * pass from then on. Guests are remembered in a small file beside the runs, their passes only as hashes. Knows nothing of the wire.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { type Fields, list, object, oneOf, orNull, text, wallTime } from '../core/record/shape.ts';
import { writeWhole } from '../whole-file.ts';
import { codeAsMeant, hashOf, isSame, newCode, newPass } from './code.ts';
import { GUEST_ROLES, type GuestRole } from './role.ts';
import { Tries } from './tries.ts';

export interface Guest {
  readonly id: string;
  /** As the person called the screen. */
  readonly name: string;
  readonly role: GuestRole;
  readonly sinceWall: string;
  readonly untilWall: string;
  /** null: not since this server started. */
  readonly lastSeenWall: string | null;
}

export interface Invitation {
  readonly id: string;
  /** As it is shown: `7K3M-9QTB`. */
  readonly code: string;
  readonly role: GuestRole;
  readonly untilWall: string;
}

export type LetIn =
  | { readonly ok: true; readonly pass: string; readonly guest: Guest }
  /** `locked`: too many wrong codes from there. `full`: as many guests as are let in. */
  | { readonly ok: false; readonly because: 'wrong' | 'locked' | 'full' };

export interface GuestsOptions {
  readonly folder: string;
  readonly wallNowMs: () => number;
  /** Never goes back. */
  readonly nowMs: () => number;
  readonly newId: () => string;
}

/** An invitation holds so long, ms (ours: from the tablet to the phone across the kitchen, twice). */
export const INVITATION_MS = 10 * 60_000;
/** As many screens may come with one (ours: a class of thirty looks on and some reload; what may act is let in one by one). */
export const COME_WITH_ONE: Readonly<Record<GuestRole, number>> = { watch: 40, control: 1 };
/** A guest is one for so long, ms (ours: a day's class; a month of one's own tablet). */
export const GUEST_MS: Readonly<Record<GuestRole, number>> = { watch: 24 * 3_600_000, control: 30 * 24 * 3_600_000 };
/** Open at once; the oldest gives way (ours). */
const INVITATIONS_MOST = 8;
/** Screens let in at once (ours: every one of a class, and the kitchen's own). */
export const GUESTS_MOST = 100;
/** Longest name of a screen, characters (ours). */
export const NAME_MOST = 40;
/** Wrong codes: five, then one more every two minutes (ours: 40 bits take longer than the universe at that). */
const WRONG_CODES = { most: 5, everyMs: 120_000 };

type Kept = Omit<Guest, 'lastSeenWall'> & { readonly passHash: string };
interface Open extends Invitation {
  readonly untilMs: number;
  readonly hash: string;
  left: number;
}

const KEPT: Fields<Kept> = {
  id: text,
  name: text,
  role: oneOf(GUEST_ROLES),
  sinceWall: wallTime,
  untilWall: wallTime,
  passHash: text,
};
const FILE_SHAPE = object({ guests: list(object(KEPT)) });
const FILE = 'guests.json';

const GUEST: Fields<Guest> = {
  id: text,
  name: text,
  role: oneOf(GUEST_ROLES),
  sinceWall: wallTime,
  untilWall: wallTime,
  lastSeenWall: orNull(wallTime),
};
export const guestShape = object(GUEST);

export class Guests {
  readonly #options: GuestsOptions;
  readonly #wrongCodes: Tries;
  readonly #lastSeenMs = new Map<string, number>();
  readonly #gone = new Set<(guest: string) => void>();
  #kept: readonly Kept[];
  #open: Open[] = [];

  constructor(options: GuestsOptions) {
    this.#options = options;
    this.#wrongCodes = new Tries(WRONG_CODES, options.nowMs);
    this.#kept = readKept(options.folder);
  }

  invite(role: GuestRole): Invitation {
    const { newId, nowMs, wallNowMs } = this.#options;
    const code = newCode();
    const invitation = { id: newId(), code, role, untilWall: isoOf(wallNowMs() + INVITATION_MS) };
    const hash = hashOf(codeAsMeant(code));
    this.#open = [
      ...this.#openNow().slice(1 - INVITATIONS_MOST),
      { ...invitation, hash, untilMs: nowMs() + INVITATION_MS, left: COME_WITH_ONE[role] },
    ];
    return invitation;
  }

  /** Those that still hold, oldest first. */
  get invitations(): readonly Invitation[] {
    return this.#openNow().map(({ id, code, role, untilWall }) => ({ id, code, role, untilWall }));
  }

  /** False: it holds no longer. */
  withdraw(invitation: string): boolean {
    const before = this.#openNow();
    this.#open = before.filter(({ id }) => id !== invitation);
    return this.#open.length < before.length;
  }

  /** `address`: where the code was typed. A name that is empty or too long is made to fit. */
  letIn(typed: string, name: string, address: string): LetIn {
    if (!this.#wrongCodes.isFree(address)) return { ok: false, because: 'locked' };
    const invitation = this.#invitationOf(typed);
    if (invitation === null) {
      this.#wrongCodes.count(address);
      return { ok: false, because: 'wrong' };
    }
    const known = this.#guestsNow();
    if (known.length >= GUESTS_MOST) return { ok: false, because: 'full' };
    invitation.left -= 1;
    const pass = newPass();
    const { newId, wallNowMs } = this.#options;
    const { role } = invitation;
    const sinceMs = wallNowMs();
    const kept: Kept = {
      id: newId(),
      name: name.trim().slice(0, NAME_MOST),
      role,
      sinceWall: isoOf(sinceMs),
      untilWall: isoOf(sinceMs + GUEST_MS[role]),
      passHash: hashOf(pass),
    };
    this.#lastSeenMs.set(kept.id, sinceMs);
    this.#keep([...known, kept]);
    return { ok: true, pass, guest: this.#shown(kept) };
  }

  /** Whose pass this is; null: nobody's, or no longer. Looks through all of them, so that the time it takes tells nothing. */
  guestOf(pass: string): Guest | null {
    const hash = hashOf(pass);
    let found: Kept | null = null;
    for (const kept of this.#guestsNow()) if (isSame(kept.passHash, hash)) found = kept;
    if (found === null) return null;
    this.#lastSeenMs.set(found.id, this.#options.wallNowMs());
    return this.#shown(found);
  }

  /** Newest first. */
  get guests(): readonly Guest[] {
    return this.#guestsNow()
      .map((kept) => this.#shown(kept))
      .toReversed();
  }

  isGuest(id: string): boolean {
    return this.#guestsNow().some((kept) => kept.id === id);
  }

  /** From now on its pass opens nothing. False: there is no such guest. */
  revoke(guest: string): boolean {
    const before = this.#guestsNow();
    const after = before.filter(({ id }) => id !== guest);
    if (after.length === before.length) return false;
    this.#keep(after);
    for (const tell of this.#gone) tell(guest);
    return true;
  }

  /** Calls back with the id of each guest that is revoked. */
  onGone(tell: (guest: string) => void): void {
    this.#gone.add(tell);
  }

  #invitationOf(typed: string): Open | null {
    const hash = hashOf(codeAsMeant(typed));
    let found: Open | null = null;
    for (const open of this.#openNow()) if (isSame(open.hash, hash)) found = open;
    return found;
  }

  #openNow(): readonly Open[] {
    const nowMs = this.#options.nowMs();
    return this.#open.filter(({ untilMs, left }) => untilMs > nowMs && left > 0);
  }

  #guestsNow(): readonly Kept[] {
    const nowMs = this.#options.wallNowMs();
    return this.#kept.filter(({ untilWall }) => Date.parse(untilWall) > nowMs);
  }

  #shown({ passHash: _passHash, ...kept }: Kept): Guest {
    const seenMs = this.#lastSeenMs.get(kept.id);
    return { ...kept, lastSeenWall: seenMs === undefined ? null : isoOf(seenMs) };
  }

  /** Where the disk takes nothing, they hold until the server ends. */
  #keep(kept: readonly Kept[]): void {
    this.#kept = kept;
    try {
      writeWhole(join(this.#options.folder, FILE), `${JSON.stringify({ guests: kept }, null, 2)}\n`);
    } catch {
      // Nothing of a run depends on it.
    }
  }
}

/** A file that is missing or damaged lets nobody in: whoever was, asks again. */
function readKept(folder: string): readonly Kept[] {
  try {
    const value: unknown = JSON.parse(readFileSync(join(folder, FILE), 'utf8'));
    return FILE_SHAPE.check(value, '') === null ? (value as { readonly guests: readonly Kept[] }).guests : [];
  } catch {
    return [];
  }
}

function isoOf(wallMs: number): string {
  return new Date(wallMs).toISOString();
}
