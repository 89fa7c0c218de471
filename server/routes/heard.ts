/** What a bowl's thermometer says, line by line, and what is understood of it. */
import type { ExplainedValue, Heard, HeardText } from '../core/reading/explained.ts';
import { formatShape, WHATS } from '../core/record/format.ts';
import { rejectShape } from '../core/record/event-file.ts';
import { roleShape } from '../core/record/input-file.ts';
import { type Fields, finite, list, object, oneOf, orNull, textOfAtMost, whole, bytes } from '../core/record/shape.ts';
import type { Session } from '../session/session.ts';
import { ofBowl } from './bowls.ts';
import { json, type Route } from './route.ts';

export interface HeardNeeds {
  readonly sessions: ReadonlyMap<string, Session>;
}

/** Labels are parts of a line. */
const part = textOfAtMost(512);

const VALUE: Fields<ExplainedValue> = {
  key: part,
  label: part,
  value: orNull(finite),
  what: oneOf(WHATS),
  valueC: orNull(finite),
  role: orNull(roleShape),
};

const LINE: Fields<HeardText> = {
  atMs: whole,
  text: bytes,
  values: list(object(VALUE)),
  why: orNull(rejectShape),
};

const HEARD: Fields<Heard> = {
  atMs: whole,
  format: orNull(formatShape),
  question: orNull(oneOf(['comma', 'which'])),
  lines: list(object(LINE)),
};

export function heardRoutes({ sessions }: HeardNeeds): Route[] {
  return [
    {
      method: 'get',
      path: '/bowls/{bowl}/heard',
      does: 'The newest lines of a thermometer, and what is understood of each.',
      gives: { json: object(HEARD).schema },
      answer: ofBowl(sessions, (session) => json(session.heard())),
    },
  ];
}
