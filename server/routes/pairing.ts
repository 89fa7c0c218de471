/** Who else may look on or take part, over a network: asked and answered at the machine itself. */
import { type Fields, flag, list, object, oneOf, text, wallTime, wholeFrom } from '../core/record/shape.ts';
import { invitationLink, reachedAt } from '../pairing/addresses.ts';
import { type Picture, pictureOf } from '../pairing/picture.ts';
import { type Guests, guestShape, type Invitation } from '../pairing/guests.ts';
import { GUEST_ROLES, type GuestRole } from '../pairing/role.ts';
import { isLoopback } from '../visitors.ts';
import { type Answer, json, problem, type Route } from './route.ts';

export interface PairingNeeds {
  readonly guests: Guests;
  /** Where the server listens; the port once it is known. */
  readonly listensAt: () => { readonly host: string; readonly port: number };
}

interface Link extends Picture {
  readonly address: string;
  readonly link: string;
}
type Shown = Invitation & { readonly links: readonly Link[] };

const LINK: Fields<Link> = { address: text, link: text, size: wholeFrom(1), path: text };
const SHOWN: Fields<Shown> = {
  id: text,
  code: text,
  role: oneOf(GUEST_ROLES),
  untilWall: wallTime,
  links: list(object(LINK)),
};
const SCREENS = object({
  /** Whether others can reach it at all. */
  onNetwork: flag,
  invitations: list(object(SHOWN)),
  guests: list(guestShape),
});
const WISH = object({ role: oneOf(GUEST_ROLES) });

export function pairingRoutes({ guests, listensAt }: PairingNeeds): Route[] {
  const shown = (invitation: Invitation, cameTo: string): Shown => ({
    ...invitation,
    links: reachedAt(listensAt(), cameTo).map((address) => linkTo(address, invitation.code)),
  });
  return [
    {
      method: 'get',
      path: '/screens',
      does: 'Which other screens are let in, and the codes that hold now.',
      role: 'host',
      gives: { json: SCREENS.schema },
      answer: ({ by }) => {
        const { host } = listensAt();
        const invitations = guests.invitations.map((each) => shown(each, by.cameTo));
        return json({ onNetwork: !isLoopback(host), invitations, guests: guests.guests });
      },
    },
    {
      method: 'post',
      path: '/screens/invitations',
      does: 'Makes a code with which another screen is let in: to watch, or to take part. It holds for ten minutes.',
      refusal: 'No code',
      role: 'host',
      body: WISH,
      gives: { json: object(SHOWN).schema, status: 201 },
      problems: [409],
      answer: ({ body, by }) => {
        if (isLoopback(listensAt().host)) return ALONE;
        return json(shown(guests.invite((body as { readonly role: GuestRole }).role), by.cameTo), 201);
      },
    },
    {
      method: 'delete',
      path: '/screens/invitations/{invitation}',
      does: 'Takes a code back.',
      role: 'host',
      gives: { json: object({ withdrawn: text }).schema },
      answer: ({ params }) => gone(guests.withdraw(params['invitation']!), 'withdrawn', params['invitation']!),
    },
    {
      method: 'delete',
      path: '/screens/{screen}',
      does: 'Shuts a screen out at once.',
      role: 'host',
      gives: { json: object({ shutOut: text }).schema },
      answer: ({ params }) => gone(guests.revoke(params['screen']!), 'shutOut', params['screen']!),
    },
  ];
}

const ALONE = problem(
  409,
  'No code',
  'Bowlside listens on this machine alone. Start it with --listen 0.0.0.0:4330 to let screens in over the network.',
);

function linkTo(address: string, code: string): Link {
  const link = invitationLink(address, code);
  return { address, link, ...pictureOf(link) };
}

function gone(isGone: boolean, what: string, id: string): Answer {
  return isGone ? json({ [what]: id }) : problem(404, 'Not there', `There is none called ${id}.`);
}
