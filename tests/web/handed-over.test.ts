/** A picture asked of the server. */
import { afterEach, expect, test, vi } from 'vitest';
import { fetchPicture } from '../../web/handed-over.ts';

afterEach(() => {
  vi.unstubAllGlobals();
});

/** Answers once, and says what it was asked with. */
function answering(response: Response) {
  const asked = vi.fn<typeof fetch>(() => Promise.resolve(response));
  vi.stubGlobal('fetch', asked);
  return asked;
}

test('comes as it is, and is not waited for without end', async () => {
  const asked = answering(new Response('<svg/>'));
  expect(await fetchPicture('a b')).toEqual({ ok: true, value: '<svg/>' });
  const [address, request] = asked.mock.calls[0]!;
  expect(address).toBe('/api/runs/a%20b/curve.svg?unit=c&decimal=point');
  expect(request?.signal).toBeInstanceOf(AbortSignal);
});

test('that there is none is told in the words of the server', async () => {
  answering(new Response(JSON.stringify({ detail: 'There is no run a.', title: 'Not found' }), { status: 404 }));
  expect(await fetchPicture('a')).toEqual({ ok: false, why: 'There is no run a.' });
});
