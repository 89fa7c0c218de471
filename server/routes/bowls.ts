/** What may be asked of a bowl: how it stands, and to do what a person says. */
import { parseCommand } from '../core/record/command-file.ts';
import { askedCommandSchema, commandShape } from '../core/record/input-file.ts';
import type { Profile } from '../core/record/profile.ts';
import { object, orNull, type Shape, within } from '../core/record/shape.ts';
import { PROBE_LAG_MAX_S } from '../config.ts';
import type { Session } from '../session.ts';
import type { CommandAnswer } from '../session/answer.ts';
import type { Shelf } from '../shelf.ts';
import { statusShape } from './answers.ts';
import { type Answer, type Asked, json, problem, type Route } from './route.ts';

export interface BowlNeeds {
  readonly sessions: ReadonlyMap<string, Session>;
  readonly shelf: Pick<Shelf, 'profiles'>;
}

const probeShape = object({ lagS: orNull(within(0, PROBE_LAG_MAX_S)) });

export function bowlRoutes({ sessions, shelf }: BowlNeeds): Route[] {
  const ofBowl =
    (answer: (session: Session, asked: Asked) => Answer) =>
    (asked: Asked): Answer => {
      const session = sessions.get(asked.params['bowl']!);
      return session === undefined
        ? problem(404, 'No such bowl', `There is no bowl ${asked.params['bowl']}.`)
        : answer(session, asked);
    };
  return [
    {
      method: 'get',
      path: '/bowls/{bowl}',
      does: 'How a bowl stands.',
      gives: { json: statusShape.schema },
      answer: ofBowl((session) => json(session.status())),
    },
    {
      method: 'post',
      path: '/bowls/{bowl}/commands',
      does: 'Does what a person says: choose a profile, start, next, back, end, an act, acknowledge, quieten.',
      refusal: 'Not a command',
      body: namedOrWhole(shelf),
      gives: { json: statusShape.schema },
      problems: [409],
      answer: ofBowl((session, { body }) => commanded(session, body, shelf.profiles)),
    },
    {
      method: 'post',
      path: '/bowls/{bowl}/probe',
      does: 'Says how late the probe is: seconds to 63.2 % of a step.',
      refusal: 'Not a probe',
      body: probeShape,
      called: 'probe',
      gives: { json: statusShape.schema },
      problems: [409],
      answer: ofBowl((session, { body }) => {
        const { lagS } = body as { readonly lagS: number | null };
        return answerOf(session, session.setProbeLag(lagS));
      }),
    },
  ];
}

/** A command as a request may word it: a profile by its id, or in full. */
function namedOrWhole(shelf: BowlNeeds['shelf']): Shape {
  return {
    ...commandShape,
    schema: askedCommandSchema,
    check: (value) => {
      const parsed = parseCommand(value, shelf.profiles);
      return parsed.ok ? null : parsed.complaint;
    },
  };
}

function commanded(session: Session, body: unknown, profiles: readonly Profile[]): Answer {
  const parsed = parseCommand(body, profiles);
  if (!parsed.ok) throw new Error('a body is checked before it is answered');
  return answerOf(session, session.command(parsed.command));
}

function answerOf(session: Session, answer: CommandAnswer): Answer {
  if (answer.ok) return json(session.status());
  return answer.because === 'unfit'
    ? problem(409, 'Not now', answer.detail)
    : problem(400, 'Not a command', answer.detail);
}
