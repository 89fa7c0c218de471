/** The description of all routes, this one among them. */
import { openApiOf } from './openapi.ts';
import { NAMED_SHAPES } from './answers.ts';
import { json, type Route } from './route.ts';

/** `routes`: all others. */
export function withDescription(routes: readonly Route[]): Route[] {
  const all: Route[] = [
    ...routes,
    {
      method: 'get',
      path: '/openapi.json',
      does: 'This description, in OpenAPI 3.1.',
      gives: { json: { type: 'object', required: ['openapi', 'info', 'paths'] } },
      answer: () => json(openApiOf(all, NAMED_SHAPES)),
    },
  ];
  return all;
}
