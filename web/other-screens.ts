/** What the page asks about other screens: who is let in, and codes to let more in. */
import { checked } from './fetched.ts';
import { type Answer, ask, hasFields } from './post.ts';

export type GuestRole = 'watch' | 'control';

/** As the server tells them (`server/routes/pairing.ts`). */
export interface ScreenCode {
  readonly id: string;
  readonly code: string;
  readonly role: GuestRole;
  readonly untilWall: string;
  /** The same link under each address of the machine, the likeliest first, drawn `size` modules wide. */
  readonly links: readonly {
    readonly address: string;
    readonly link: string;
    readonly size: number;
    readonly path: string;
  }[];
}

export interface OtherScreen {
  readonly id: string;
  readonly name: string;
  readonly role: GuestRole;
  readonly sinceWall: string;
  readonly untilWall: string;
  readonly lastSeenWall: string | null;
}

export interface OtherScreens {
  /** Whether a network reaches the server at all. */
  readonly onNetwork: boolean;
  readonly invitations: readonly ScreenCode[];
  readonly guests: readonly OtherScreen[];
}

export async function fetchScreens(): Promise<Answer<OtherScreens>> {
  return checked(await ask('/api/screens'), hasFields<OtherScreens>('onNetwork', 'invitations', 'guests'));
}

export function inviteScreen(role: GuestRole): Promise<Answer<unknown>> {
  return ask('/api/screens/invitations', { role });
}

export function withdrawCode(id: string): Promise<Answer<unknown>> {
  return ask(`/api/screens/invitations/${encodeURIComponent(id)}`, undefined, 'DELETE');
}

export function shutOut(id: string): Promise<Answer<unknown>> {
  return ask(`/api/screens/${encodeURIComponent(id)}`, undefined, 'DELETE');
}
