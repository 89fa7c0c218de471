/** The profiles a run can be made by: read, made from a bag's numbers, duplicated, changed, deleted. */
import { type Bag, bagShape, profileFromBag } from '../core/record/bag.ts';
import { profileFromJson } from '../core/record/profile-file.ts';
import { profileShape } from '../core/record/profile-shape.ts';
import type { Profile } from '../core/record/profile.ts';
import { list, object, type Shape, text, textUpTo } from '../core/record/shape.ts';
import { idFor, type Shelf, type ShelfAnswer } from '../shelf.ts';
import { type Answer, json, problem, type Route } from './route.ts';

export interface ProfileNeeds {
  readonly shelf: Shelf;
}

/** Longest title of a copy, characters (ours: a line on the start page). */
const TITLE_MAX_CHARS = 80;

const copyShape = object({ title: textUpTo(TITLE_MAX_CHARS) });

/** Anything at all: what is wrong with it is the answer. */
const draftShape: Shape = { check: () => null, write: (value) => JSON.stringify(value), schema: {} };

const OWN = object({
  ids: list(text),
  leftOut: list(object({ file: text, complaints: list(text) })),
}).schema;

const COMPLAINTS = object({ complaints: list(object({ path: text, value: text, rule: text })) }).schema;

const NO_NAME = 'Give it a name with a letter or a figure in it.';

export function profileRoutes({ shelf }: ProfileNeeds): Route[] {
  return [
    {
      method: 'get',
      path: '/profiles',
      does: 'All profiles, each in full: those that ship first, then one’s own.',
      gives: { json: list(profileShape).schema },
      answer: () => json(shelf.profiles),
    },
    {
      method: 'get',
      path: '/profiles/own',
      does: 'Which profiles are one’s own, and files among them that were left out because of what is wrong with them.',
      gives: { json: OWN },
      answer: () => json({ ids: shelf.ownIds, leftOut: shelf.leftOut }),
    },
    {
      method: 'post',
      path: '/profiles',
      does: 'Keeps a profile of one’s own under an id that is not taken.',
      refusal: 'Not a profile',
      body: profileShape,
      gives: { json: profileShape.schema, status: 201 },
      problems: [409],
      answer: ({ body }) => kept(shelf.add(body as Profile), body as Profile, 201),
    },
    {
      method: 'post',
      path: '/profiles/check',
      does: 'Everything that is wrong with a profile, place by place. Keeps nothing.',
      body: draftShape,
      gives: { json: COMPLAINTS },
      answer: ({ body }) => json({ complaints: complaintsOf(body) }),
    },
    {
      method: 'post',
      path: '/profiles/bag',
      does: 'A whole profile from the three figures on a bag, with our usual bounds around them. Keeps nothing.',
      refusal: 'Not a bag’s numbers',
      body: bagShape,
      gives: { json: profileShape.schema },
      answer: ({ body }) => {
        const bag = body as Bag;
        const id = idFor(bag.title);
        return id === '' ? problem(400, 'Not a name', NO_NAME, 'title') : json(profileFromBag(bag, id));
      },
    },
    {
      method: 'post',
      path: '/profiles/{profile}/copies',
      does: 'Keeps a copy of a profile as one’s own, under a name of its own.',
      refusal: 'Not a name',
      body: copyShape,
      gives: { json: profileShape.schema, status: 201 },
      problems: [409],
      answer: ({ params, body }) =>
        copied(shelf, params['profile']!, (body as { readonly title: string }).title.trim()),
    },
    {
      method: 'put',
      path: '/profiles/{profile}',
      does: 'Changes a profile of one’s own. A run that is going keeps what it began with.',
      refusal: 'Not a profile',
      body: profileShape,
      gives: { json: profileShape.schema },
      problems: [409],
      answer: ({ params, body }) => kept(shelf.change(params['profile']!, body as Profile), body as Profile, 200),
    },
    {
      method: 'delete',
      path: '/profiles/{profile}',
      does: 'Deletes a profile of one’s own. Runs made by it keep it.',
      gives: { json: object({ deleted: text }).schema },
      problems: [409],
      answer: ({ params }) => {
        const answer = shelf.remove(params['profile']!);
        return answer.ok ? json({ deleted: params['profile'] }) : refused(answer);
      },
    },
  ];
}

function complaintsOf(draft: unknown) {
  const parsed = profileFromJson(draft, '');
  return parsed.ok ? [] : parsed.complaints.map(({ path, value, rule }) => ({ path, value, rule }));
}

function copied(shelf: Shelf, id: string, title: string): Answer {
  const original = shelf.find(id);
  if (original === null) return problem(404, 'No such profile', `There is no profile ${id}.`);
  const own = idFor(title);
  if (own === '') return problem(400, 'Not a name', NO_NAME, 'title');
  const copy = { ...original, id: own, title };
  return kept(shelf.add(copy), copy, 201);
}

function kept(answer: ShelfAnswer, profile: Profile, status: 200 | 201): Answer {
  return answer.ok ? json(profile, status) : refused(answer);
}

function refused({ because, detail }: Extract<ShelfAnswer, { ok: false }>): Answer {
  switch (because) {
    case 'unknown':
      return problem(404, 'No such profile', detail);
    case 'shipped':
      return problem(409, 'Not one’s own', detail);
    case 'taken':
    case 'other-id':
      return problem(409, 'Not under this id', detail, 'id');
    case 'disk':
      return problem(507, 'Not written', detail);
  }
}
