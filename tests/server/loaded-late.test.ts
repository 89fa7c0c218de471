/** What answers questions is loaded when the first one comes: once, and whatever goes wrong with that stays with whoever asked. */
import { once } from 'node:events';
import { expect, onTestFinished, test, vi } from 'vitest';
import { type Http, openHttp } from '../../server/http.ts';
import type { Route } from '../../server/routes/route.ts';
import { doorkeeper } from '../support/doorkeeper.ts';

async function opened(routes: () => Promise<readonly Route[]>): Promise<Http> {
  const listen = { host: '127.0.0.1', port: 0 };
  const answer = await openHttp({ listen, webFolder: '/nowhere', routes, ...doorkeeper() });
  if (!answer.ok) throw new Error(answer.message);
  onTestFinished(() => answer.http.close());
  return answer.http;
}

test('what answers is loaded once, when the first question comes', async () => {
  const routes = vi.fn(async () => []);
  const http = await opened(routes);
  expect(routes).not.toHaveBeenCalled();
  const answers = await Promise.all([1, 2].map(() => fetch(`${http.address}/api/nothing`)));
  expect(answers.map(({ status }) => status)).toEqual([404, 404]);
  expect(routes).toHaveBeenCalledOnce();
});

test('where it cannot be loaded nothing ends with it: whoever asks is told, and the next question tries again', async () => {
  const routes = vi.fn(async () => []);
  for (let times = 0; times < 2; times++) routes.mockRejectedValueOnce(new Error('no such file'));
  const http = await opened(routes);
  await http.prepare();
  const told = await fetch(`${http.address}/api/nothing`);
  expect([told.status, await told.text()]).toEqual([500, expect.stringContaining('The run goes on.')]);
  expect((await fetch(`${http.address}/api/nothing`)).status).toBe(404);
});

test('a file whose sender goes away before it is loaded keeps no other file out', async () => {
  const route: Route = {
    method: 'post',
    path: '/file',
    does: 'Takes a file.',
    upload: { type: 'text/plain', mostBytes: 100 },
    gives: { json: {} },
    answer: () => ({ kind: 'json', value: {} }),
  };
  let load = (_routes: readonly Route[]): void => {};
  const http = await opened(() => new Promise((resolve) => (load = resolve)));
  const sending = new AbortController();
  const file = { method: 'POST', headers: { 'Content-Type': 'text/plain' }, body: 'a file' };
  const sent = fetch(`${http.address}/api/file`, { ...file, signal: sending.signal });
  const [, response] = await once(http.server, 'request');
  sending.abort();
  await Promise.all([expect(sent).rejects.toThrow(), once(response, 'close')]);
  load([route]);
  expect((await fetch(`${http.address}/api/file`, file)).status).toBe(200);
});
