/** What may be asked of a bowl's thermometer: what is known of it, how late it is, and how a check of it stands. */
import { standardShape } from '../core/check/standard.ts';
import type { CheckAsked, ProbeNamed } from '../core/check/told.ts';
import { checkPointsShape } from '../core/record/check.ts';
import { lagShape } from '../core/record/input-file.ts';
import { type Fields, flag, object, optional, orNull, text } from '../core/record/shape.ts';
import { statusShape } from './answers.ts';
import { checkStandsShape, probeKnownShape } from './answers-probe.ts';
import { answerOf, type BowlNeeds, ofBowl, refusalOf } from './bowls.ts';
import { json, type Route } from './route.ts';

const saidLagShape = object({ lagS: orNull(lagShape) });

const NAMED: Fields<ProbeNamed> = { source: text, channel: orNull(text) };
const ASKED: Fields<CheckAsked> = {
  probe: optional(object(NAMED)),
  standard: orNull(standardShape),
  points: checkPointsShape,
  isWatched: optional(flag),
};

export function probeRoutes({ sessions }: BowlNeeds): Route[] {
  return [
    {
      method: 'get',
      path: '/bowls/{bowl}/probe',
      does: 'What is known of the thermometers of a bowl: each probe with its check and its correction, and what each number of the line is.',
      gives: { json: probeKnownShape.schema },
      answer: ofBowl(sessions, (session) => json(session.probe())),
    },
    {
      method: 'post',
      path: '/bowls/{bowl}/probe',
      does: 'Says how late the probe is: seconds to 63.2 % of a step.',
      refusal: 'Not a probe',
      body: saidLagShape,
      called: 'probe',
      gives: { json: statusShape.schema },
      problems: [409],
      answer: ofBowl(sessions, (session, { body }) => {
        const { lagS } = body as { readonly lagS: number | null };
        return answerOf(session, session.setProbeLag(lagS));
      }),
    },
    {
      method: 'post',
      path: '/bowls/{bowl}/check',
      does: 'Watches a probe, the chocolate’s or the one that is named, for a check, for as long as it is asked for again: whether it is steady, and what comes of the points so far. Or only the latter.',
      refusal: 'Not a check',
      body: object(ASKED),
      called: 'check',
      gives: { json: checkStandsShape.schema },
      problems: [409],
      answer: ofBowl(sessions, (session, { body }) => {
        const answer = session.check(body as CheckAsked);
        return 'ok' in answer ? refusalOf(answer) : json(answer);
      }),
    },
    {
      method: 'delete',
      path: '/bowls/{bowl}/check',
      does: 'Leaves the check: what is read from now on is of a bowl again.',
      gives: { json: statusShape.schema },
      answer: ofBowl(sessions, (session) => {
        session.endCheck();
        return json(session.status());
      }),
    },
  ];
}
