/** Which thermometers there are to choose from, choosing one, and a person's yes to asking the one that is open. */
import { type Fields, list, object, text } from '../core/record/shape.ts';
import { queryShape } from '../settings.ts';
import type { Query } from '../source/asking.ts';
import type { EveryPort, PortChoice } from '../thermometer.ts';
import { portShape } from './answers.ts';
import { json, problem, type Route } from './route.ts';

export interface ThermometerNeeds {
  readonly thermometer: {
    readonly choices: readonly PortChoice[];
    all(): Promise<EveryPort>;
    choose(path: string): Promise<boolean>;
    ask(query: Query | null): Promise<boolean>;
  };
}

const choiceShape = object({ path: text });
const EVERY_PORT: Fields<EveryPort> = { ports: list(portShape), why: text };

export function thermometerRoutes({ thermometer }: ThermometerNeeds): Route[] {
  return [
    {
      method: 'get',
      path: '/thermometers',
      does: 'Thermometers that could be opened but were not by themselves.',
      gives: { json: list(portShape).schema },
      answer: () => json(thermometer.choices),
    },
    {
      method: 'get',
      path: '/thermometers/all',
      does: 'Every serial port there is, those that are built in or come over Bluetooth too, and why there is none on USB.',
      gives: { json: object(EVERY_PORT).schema },
      answer: async () => json(await thermometer.all()),
    },
    {
      method: 'post',
      path: '/thermometers',
      does: 'Opens one of them.',
      refusal: 'Not a thermometer',
      body: choiceShape,
      problems: [409],
      gives: { json: object({ chosen: text }).schema },
      answer: async ({ body }) => {
        const { path } = body as { readonly path: string };
        if (await thermometer.choose(path)) return json({ chosen: path });
        return problem(409, 'Not now', 'This thermometer is not among those to choose from.', 'path');
      },
    },
    {
      method: 'post',
      path: '/thermometers/ask',
      does: 'Asks the open thermometer this once a second from now on, and whenever it is opened again.',
      refusal: 'Not a question',
      body: queryShape,
      problems: [409],
      gives: { json: queryShape.schema },
      answer: async ({ body }) => {
        const query = body as Query;
        return (await thermometer.ask(query)) ? json(query) : NONE_OPEN;
      },
    },
    {
      method: 'delete',
      path: '/thermometers/ask',
      does: 'Asks the open thermometer nothing any more.',
      problems: [409],
      gives: { json: object({ asked: text }).schema },
      answer: async () => ((await thermometer.ask(null)) ? json({ asked: 'nothing' }) : NONE_OPEN),
    },
  ];
}

const NONE_OPEN = problem(409, 'Not now', 'No thermometer is open that could be asked.');
