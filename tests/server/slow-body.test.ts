/** Bodies that come slowly: how long one is waited for, and what comes beside it. */
import { request } from 'node:http';
import { describe, expect, onTestFinished, test } from 'vitest';
import { object } from '../../server/core/record/shape.ts';
import { openHttp } from '../../server/http.ts';
import { json } from '../../server/routes/route.ts';
import { doorkeeper } from '../support/doorkeeper.ts';

describe('a body that arrives slowly', () => {
  const takes = { gives: { json: {} }, does: 'Takes it.', answer: () => json('taken') } as const;
  const upload = { type: 'application/octet-stream', mostBytes: 1_000 };

  /** Asks for a path in two halves. `begun`: the first one has left; `answer` is null where it was cut off. */
  async function opened(arrival: { readonly bodyMs: number; readonly uploadMs: number }) {
    const routes = [
      { method: 'post', path: '/json', body: object({}), ...takes },
      { method: 'post', path: '/file', upload, ...takes },
    ] as const;
    const http = await openHttp({
      listen: { host: '127.0.0.1', port: 0 },
      webFolder: 'none',
      routes: async () => routes,
      arrival,
      ...doorkeeper(),
    });
    if (!http.ok) throw new Error(http.message);
    onTestFinished(() => http.http.close());
    const { hostname, port } = new URL(http.http.address);
    return (path: string, type: string) => {
      const headers = { 'content-type': type, 'content-length': '2', origin: http.http.address };
      const sent = request({ hostname, port, method: 'POST', path: `/api${path}`, headers });
      const answer = new Promise<number | null>((resolve) => {
        sent.once('error', () => resolve(null));
        sent.once('response', (response) => resolve(response.resume().statusCode ?? null));
      });
      const begun = new Promise<void>((resolve) => sent.write('{', () => resolve()));
      return { answer, begun, end: () => sent.end('}') };
    };
  }

  test('is cut off, a file later than a few words', async () => {
    const post = await opened({ bodyMs: 150, uploadMs: 60_000 });
    const file = post('/file', 'application/octet-stream');
    const words = post('/json', 'application/json');
    expect(await words.answer).toBeNull();
    file.end();
    expect(await file.answer).toBe(200);
  });

  test('as a file keeps a second one out from its first byte on, and no longer than it is answered', async () => {
    const post = await opened({ bodyMs: 60_000, uploadMs: 60_000 });
    const first = post('/file', 'application/octet-stream');
    await first.begun;
    expect(await post('/file', 'application/octet-stream').answer).toBe(409);
    first.end();
    expect(await first.answer).toBe(200);
    const third = post('/file', 'application/octet-stream');
    third.end();
    expect(await third.answer).toBe(200);
  });

  test('as a file that is broken off it keeps nobody out any more', async () => {
    const post = await opened({ bodyMs: 60_000, uploadMs: 2_000 });
    expect(await post('/file', 'application/octet-stream').answer).toBeNull();
    const next = post('/file', 'application/octet-stream');
    next.end();
    expect(await next.answer).toBe(200);
  });
});
