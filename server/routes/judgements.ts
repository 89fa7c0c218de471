/** Judging a stored run again: begun, looked at, taken away. The run's own log is never touched. */
import type { Profile } from '../core/record/profile.ts';
import { profileShape } from '../core/record/profile-shape.ts';
import { object, optional, type Shape, shown, text } from '../core/record/shape.ts';
import type { Judging } from '../judging/judging.ts';
import { onDisk } from '../on-disk.ts';
import type { Shelf } from '../shelf.ts';
import type { StoredRun } from '../store/records.ts';
import type { Store } from '../store/store.ts';
import { goingShape, judgedShape, judgementsShape } from './answers.ts';
import { type Answer, json, NOT_ON_DISK, problem, type Route } from './route.ts';
import { ofRun } from './runs.ts';

export interface JudgementNeeds {
  readonly store: Store;
  readonly judging: Judging;
  readonly shelf: Pick<Shelf, 'profiles'>;
}

/** Second logs kept of one run (ours: more than anybody lays side by side). */
const JUDGEMENTS_MOST = 20;

export function judgementRoutes({ store, judging, shelf }: JudgementNeeds): Route[] {
  return [
    {
      method: 'get',
      path: '/runs/{run}/judgements',
      does: 'Second logs of a run, oldest first, and the one that is being made, of whichever run.',
      gives: { json: judgementsShape.schema },
      answer: ofRun(store, ({ run }) =>
        json({ judgements: store.judgements.of(run), going: judging.going, failed: judging.failureOf(run) }),
      ),
    },
    {
      method: 'post',
      path: '/runs/{run}/judgements',
      does: "Judges the run's trace again, by its own profile or another, named by its id or given in full. One at a time.",
      refusal: 'Not a judging',
      body: wishShape(shelf),
      called: 'judging',
      gives: { json: goingShape.schema, status: 201 },
      problems: [409],
      answer: ofRun(store, (stored, { body }) => {
        const { profile } = body as { readonly profile?: string | Profile };
        return begun(store, judging, stored, profileOf(profile, shelf));
      }),
    },
    {
      method: 'get',
      path: '/runs/{run}/judgements/{judgement}',
      does: 'One second log, with the curve of its estimates.',
      gives: { json: judgedShape.schema },
      answer: ofRun(store, ({ run }, { params }) => {
        const judged = store.judgements.one(run, params['judgement']!);
        return judged === null ? notThere(params['judgement']!) : json(judged);
      }),
    },
    {
      method: 'delete',
      path: '/runs/{run}/judgements/{judgement}',
      does: 'Takes a second log away, or breaks off the one that is being made.',
      gives: { json: object({ gone: text }).schema },
      problems: [503],
      answer: ofRun(store, async ({ run }, { params }) => {
        const id = params['judgement']!;
        if (judging.going?.run === run && judging.stop(id)) return json({ gone: id });
        if (store.judgements.one(run, id) === null) return notThere(id);
        store.judgements.drop(run, id);
        return (await onDisk(store)) ? json({ gone: id }) : NOT_ON_DISK;
      }),
    },
  ];
}

const fullWish = object({ profile: optional(profileShape) });

const namedProfile = { ...profileShape, schema: { anyOf: [text.schema, profileShape.schema] } };

/** A profile by its id, in full, or none: the run's own. */
function wishShape(shelf: JudgementNeeds['shelf']): Shape {
  return {
    ...fullWish,
    schema: object({ profile: optional(namedProfile) }).schema,
    check: (value, path) => {
      const named = (value as { readonly profile?: unknown } | null)?.profile;
      if (typeof named !== 'string') return fullWish.check(value, path);
      const ids = shelf.profiles.map(({ id }) => id);
      if (ids.includes(named)) return fullWish.check({ ...(value as object), profile: undefined }, path);
      const rule = `one of ${ids.join(', ')} is wanted, or a profile in full`;
      return { path: path === '' ? 'profile' : `${path}.profile`, value: shown(named), rule };
    },
  };
}

function profileOf(wished: string | Profile | undefined, { profiles }: JudgementNeeds['shelf']): Profile | null {
  if (typeof wished !== 'string') return wished ?? null;
  return profiles.find(({ id }) => id === wished) ?? null;
}

function begun(store: Store, judging: Judging, { run, header, endedAtMs }: StoredRun, profile: Profile | null): Answer {
  if (endedAtMs === null)
    return problem(409, 'Not now', 'The run is still going; it can be judged again when it has ended.');
  if (store.judgements.of(run).length >= JUDGEMENTS_MOST)
    return problem(409, 'Not now', `There are ${JUDGEMENTS_MOST} second logs of this run; take one away first.`);
  const going = judging.begin(run, profile, header.profile.title);
  if (going === null) return problem(409, 'Not now', 'Another run is being judged; try again in a moment.');
  return json(going, 201);
}

function notThere(id: string): Answer {
  return problem(404, 'No such log', `There is no second log ${id} of this run.`);
}
