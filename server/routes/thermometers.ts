/** Which thermometers there are to choose from, choosing one, and a person's yes to asking the one that is open. */
import { FIRST_LEFT } from '../core/record/run.ts';
import { type Fields, list, object, optional, orNull, text } from '../core/record/shape.ts';
import type { Placing } from '../bench/placing.ts';
import { queryShape } from '../settings.ts';
import type { Query } from '../source/asking.ts';
import type { EveryPort } from '../bench/thermometer.ts';
import { type Thermometers, THERMOMETERS_MOST } from '../bench/thermometers.ts';
import { portShape } from './answers.ts';
import { WHY_NOT } from './bench.ts';
import { type Answer, json, problem, type Route } from './route.ts';

export interface ThermometerNeeds {
  readonly thermometers: Pick<Thermometers, 'choices' | 'all' | 'choose' | 'ask'>;
  readonly placing: Placing;
}

/** `bowl`: in its chocolate, beside those that are open; null: beside them, in nothing yet; absent: in place of the first. */
interface Chosen {
  readonly path: string;
  readonly bowl?: string | null;
}

const CHOICE: Fields<Chosen> = { path: text, bowl: optional(orNull(text)) };
const choiceShape = object(CHOICE);
/** As the bench calls it. */
const NAMED = { thermometer: text };
const EVERY_PORT: Fields<EveryPort> = { ports: list(portShape), why: text };

export function thermometerRoutes({ thermometers, placing }: ThermometerNeeds): Route[] {
  return [
    {
      method: 'get',
      path: '/thermometers',
      does: 'Thermometers that could be opened but were not by themselves.',
      gives: { json: list(portShape).schema },
      answer: async () => json(await thermometers.choices()),
    },
    {
      method: 'get',
      path: '/thermometers/all',
      does: 'Every serial port there is, those that are built in or come over Bluetooth too, and why there is none on USB.',
      gives: { json: object(EVERY_PORT).schema },
      answer: async () => json(await thermometers.all()),
    },
    {
      method: 'post',
      path: '/thermometers',
      does: 'Opens one of them: in place of the one that was chosen first, or beside it.',
      refusal: 'Not a thermometer',
      body: choiceShape,
      problems: [409],
      gives: { json: object({ chosen: text }).schema },
      answer: async ({ body }) => {
        const { path, bowl } = body as Chosen;
        // Opening a port can restart a machine: not for a bowl that isn't there.
        if (typeof bowl === 'string' && !placing.isBowl(bowl))
          return problem(409, 'Not there', WHY_NOT['no-bowl'], 'bowl');
        const thermometer = await thermometers.choose(path, bowl !== undefined);
        if (thermometer === null) return problem(409, 'Not now', NOT_TO_CHOOSE, 'path');
        return typeof bowl === 'string' ? inChocolate(placing, thermometer, bowl, path) : json({ chosen: path });
      },
    },
    {
      method: 'post',
      path: '/thermometers/ask',
      does: 'Asks a thermometer, the one named or the first, this once a second from now on, and whenever it is opened again.',
      refusal: 'Not a question',
      query: NAMED,
      body: queryShape,
      problems: [409],
      gives: { json: queryShape.schema },
      answer: async ({ body, query: { thermometer = null } }) => {
        const query = body as Query;
        return (await thermometers.ask(query, thermometer)) ? json(query) : NONE_OPEN;
      },
    },
    {
      method: 'delete',
      path: '/thermometers/ask',
      does: 'Asks a thermometer, the one named or the first, nothing any more.',
      query: NAMED,
      problems: [409],
      gives: { json: object({ asked: text }).schema },
      answer: async ({ query: { thermometer = null } }) =>
        (await thermometers.ask(null, thermometer)) ? json({ asked: 'nothing' }) : NONE_OPEN,
    },
  ];
}

const NOT_TO_CHOOSE = `This thermometer is not among those to choose from, or ${THERMOMETERS_MOST} are read already.`;

const NONE_OPEN = problem(409, 'Not now', 'No such thermometer is open that could be asked.');

function inChocolate(placing: Placing, thermometer: string, bowl: string, path: string): Answer {
  if (placing.homeOf(thermometer) === bowl) return json({ chosen: path });
  const not = placing.place({ thermometer, channel: FIRST_LEFT, role: 'chocolate', bowls: [bowl] });
  return not === null ? json({ chosen: path }) : problem(409, 'Not there', WHY_NOT[not]);
}
