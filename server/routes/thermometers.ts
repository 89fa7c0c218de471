/** Which thermometers there are to choose from, and choosing one. */
import { list, object, text } from '../core/record/shape.ts';
import type { UsbPort } from '../source/ports.ts';
import { portShape } from './answers.ts';
import { json, problem, type Route } from './route.ts';

export interface ThermometerNeeds {
  readonly thermometer: { readonly choices: readonly UsbPort[]; choose(path: string): Promise<boolean> };
}

const choiceShape = object({ path: text });

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
  ];
}
