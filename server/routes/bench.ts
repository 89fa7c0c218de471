/** The bench: which bowls there are, what each thermometer is in, and changing either. */
import { BOWL_NAME_MOST, BOWLS_MOST, CHANNELS_MOST, type BenchBowl, type Place } from '../bench/bench.ts';
import type { Bowls, Kept } from '../bench/bowls.ts';
import { roleShape } from '../core/record/input-file.ts';
import {
  type Fields,
  finite,
  flag,
  list,
  object,
  orNull,
  type Shape,
  shown,
  text,
  wholeFrom,
} from '../core/record/shape.ts';
import type { LinkState } from '../core/show/wire.ts';
import type { ChannelPlace, NotPlaced, Placing } from '../bench/placing.ts';
import type { Router } from '../bench/router.ts';
import type { Thermometers } from '../bench/thermometers.ts';
import { linkShape } from './answers.ts';
import { withNewest } from '../session/status.ts';
import { noBowl } from './bowls.ts';
import { json, problem, type Route } from './route.ts';

export interface BenchNeeds {
  readonly bowls: Bowls;
  readonly router: Pick<Router, 'feeds'>;
  readonly placing: Placing;
  readonly thermometers: Pick<Thermometers, 'put' | 'isBeside'>;
}

interface TakenThermometer {
  readonly thermometer: string;
  readonly simulated: boolean;
  readonly link: LinkState;
  readonly lastLine: string | null;
  readonly channels: readonly ChannelPlace[];
  /** It was opened beside the first one, and can be put away. */
  readonly mayPutAway: boolean;
}

interface BenchAnswer {
  readonly bowls: readonly BenchBowl[];
  readonly bowlsMost: number;
  readonly channelsMost: number;
  readonly thermometers: readonly TakenThermometer[];
}

const nameShape: Shape = {
  ...text,
  check: (value, path) =>
    text.check(value, path) ??
    (isName(value as string)
      ? null
      : { path, value: shown(value), rule: `1 to ${BOWL_NAME_MOST} characters are wanted, on one line` }),
  schema: { type: 'string', minLength: 1, maxLength: BOWL_NAME_MOST },
};

function isName(name: string): boolean {
  return name.trim() !== '' && name.length <= BOWL_NAME_MOST && !/\p{Cc}/u.test(name);
}

const namedShape = object({ name: orNull(nameShape) });

const BOWL: Fields<BenchBowl> = { bowl: text, name: orNull(text) };
const bowlShape = object(BOWL);

const CHANNEL: Fields<ChannelPlace> = { channel: text, valueC: orNull(finite), role: roleShape, bowls: list(text) };
const TAKEN: Fields<TakenThermometer> = {
  thermometer: text,
  simulated: flag,
  link: linkShape,
  lastLine: orNull(text),
  channels: list(object(CHANNEL)),
  mayPutAway: flag,
};
const ANSWER: Fields<BenchAnswer> = {
  bowls: list(bowlShape),
  bowlsMost: wholeFrom(1),
  channelsMost: wholeFrom(1),
  thermometers: list(object(TAKEN)),
};
const benchShape = object(ANSWER);

const PLACE: Fields<Place> = { thermometer: text, channel: text, role: roleShape, bowls: list(text, BOWLS_MOST) };
const placeShape = object(PLACE);

export function benchRoutes(needs: BenchNeeds): Route[] {
  const { bowls, placing, thermometers } = needs;
  return [
    {
      method: 'get',
      path: '/bench',
      does: 'Which bowls there are, and what each thermometer is in.',
      gives: { json: benchShape.schema },
      answer: () => json(answerOf(needs)),
    },
    {
      method: 'post',
      path: '/bench/bowls',
      does: 'Another bowl on the bench.',
      refusal: 'Not a bowl',
      body: namedShape,
      called: 'bowl',
      gives: { json: bowlShape.schema, status: 201 },
      problems: [409],
      answer: ({ body }) => {
        const added = bowls.add(nameIn(body));
        return added === null
          ? problem(409, 'No room', `There are ${BOWLS_MOST} bowls already, and no more can be watched.`)
          : json(added, 201);
      },
    },
    {
      method: 'put',
      path: '/bench/bowls/{bowl}',
      does: 'Names a bowl, in the words of those who stir it.',
      refusal: 'Not a name',
      body: namedShape,
      called: 'bowl',
      gives: { json: benchShape.schema },
      answer: ({ params, body }) => {
        const bowl = params['bowl']!;
        return bowls.rename(bowl, nameIn(body)) ? json(answerOf(needs)) : noBowl(bowl);
      },
    },
    {
      method: 'delete',
      path: '/bench/bowls/{bowl}',
      does: 'Takes an empty bowl from the bench. Its runs stay.',
      gives: { json: benchShape.schema },
      problems: [409],
      answer: ({ params }) => {
        const bowl = params['bowl']!;
        const kept = bowls.remove(bowl);
        if (kept === 'unknown') return noBowl(bowl);
        return kept === null ? json(answerOf(needs)) : problem(409, 'Not now', WHY_KEPT[kept]);
      },
    },
    {
      method: 'post',
      path: '/bench/places',
      does: 'Says what a channel of a thermometer is in.',
      refusal: 'Not a place',
      body: placeShape,
      called: 'place',
      gives: { json: benchShape.schema },
      problems: [409],
      answer: ({ body }) => {
        const not = placing.place(body as Place);
        return not === null ? json(answerOf(needs)) : problem(409, 'Not there', WHY_NOT[not]);
      },
    },
    {
      method: 'delete',
      path: '/bench/thermometers/{thermometer}',
      does: 'Closes a thermometer that was opened beside the first one.',
      gives: { json: benchShape.schema },
      problems: [409],
      answer: async ({ params }) => {
        const feed = needs.router.feeds.find(({ name }) => name === params['thermometer']);
        if (feed === undefined) return problem(404, 'No such thermometer', 'It is not open.');
        if (await thermometers.put(feed.source.id)) return json(answerOf(needs));
        return problem(409, 'Not now', 'Only a thermometer that was opened beside the first one can be put away.');
      },
    },
  ];
}

const WHY_KEPT: Readonly<Record<Exclude<Kept, 'unknown'>, string>> = {
  going: 'A run is going in this bowl. End it first.',
  last: 'It is the only bowl.',
};

/** What a person is told where it was not put there. */
export const WHY_NOT: Readonly<Record<NotPlaced, string>> = {
  'no-thermometer': 'This thermometer is not open.',
  'no-channel': 'This thermometer has no such channel.',
  'no-bowl': 'There is no such bowl.',
  'one-bowl': 'A probe is in the chocolate of one bowl, or in the bath of one bowl or more.',
  full: `A bowl has ${CHANNELS_MOST} channels at most, those of the room included.`,
  going: 'A run is going with this thermometer in its chocolate. End it first, or give the bowl another one.',
};

function nameIn(body: unknown): string | null {
  return (body as { readonly name: string | null }).name?.trim() ?? null;
}

function answerOf({ bowls, router, placing, thermometers }: BenchNeeds): BenchAnswer {
  return {
    bowls: bowls.bench.bowls,
    bowlsMost: BOWLS_MOST,
    channelsMost: CHANNELS_MOST,
    thermometers: router.feeds.map((feed) => ({
      thermometer: feed.name,
      simulated: feed.source.simulated,
      link: withNewest(feed.link, feed.lastLine),
      lastLine: feed.lastLine,
      channels: placing.channelsOf(feed),
      mayPutAway: thermometers.isBeside(feed.source.id),
    })),
  };
}
