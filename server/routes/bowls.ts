/** What may be asked of a bowl: how it stands, and to do what a person says. */
import { parseCommand } from '../core/record/command-file.ts';
import { askedCommandSchema, commandShape } from '../core/record/input-file.ts';
import type { Profile } from '../core/record/profile.ts';
import type { Shape } from '../core/record/shape.ts';
import type { Session } from '../session/session.ts';
import type { CommandAnswer, Refused } from '../session/answer.ts';
import type { Shelf } from '../shelf.ts';
import { statusShape } from './answers.ts';
import { type Answer, type Asked, json, problem, type Route } from './route.ts';

export interface BowlNeeds {
  readonly sessions: ReadonlyMap<string, Session>;
  readonly shelf: Pick<Shelf, 'profiles'>;
}

export function bowlRoutes({ sessions, shelf }: BowlNeeds): Route[] {
  return [
    {
      method: 'get',
      path: '/bowls/{bowl}',
      does: 'How a bowl stands.',
      gives: { json: statusShape.schema },
      answer: ofBowl(sessions, (session) => json(session.status())),
    },
    {
      method: 'post',
      path: '/bowls/{bowl}/commands',
      does: 'Does what a person says: choose a profile, start, next, back, end, an act, acknowledge, quieten.',
      refusal: 'Not a command',
      body: namedOrWhole(shelf),
      gives: { json: statusShape.schema },
      problems: [409],
      answer: ofBowl(sessions, (session, { body }) => commanded(session, body, shelf.profiles)),
    },
  ];
}

/** Answers about a bowl that is there; for another, says so. */
export function ofBowl(
  sessions: BowlNeeds['sessions'],
  answer: (session: Session, asked: Asked) => Answer,
): (asked: Asked) => Answer {
  return (asked) => {
    const session = sessions.get(asked.params['bowl']!);
    return session === undefined ? noBowl(asked.params['bowl']!) : answer(session, asked);
  };
}

export function noBowl(bowl: string): Answer {
  return problem(404, 'No such bowl', `There is no bowl ${bowl}.`);
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

/** How it stands after what was taken, or why it was not. */
export function answerOf(session: Session, answer: CommandAnswer): Answer {
  return answer.ok ? json(session.status()) : refusalOf(answer);
}

export function refusalOf(answer: Refused): Answer {
  return answer.because === 'unfit'
    ? problem(409, 'Not now', answer.detail)
    : problem(400, 'Not a command', answer.detail);
}
