/** The list of runs as the page asks for it: as long as it is wanted, whatever the server gives at once. */
import { afterEach, describe, expect, test, vi } from 'vitest';
import { EVERY_RUN, fetchBin, fetchRuns, isWish, withMore } from '../../web/run-list.ts';
import { LINE } from '../support/lines.ts';

const line = (i: number) => ({ ...LINE, run: `r${i}` });

/** A server with so many runs that gives 500 at once; returns what it was asked for. */
function serve(total: number): URLSearchParams[] {
  const asked: URLSearchParams[] = [];
  vi.stubGlobal('fetch', (address: string) => {
    const query = new URLSearchParams(address.split('?')[1]);
    asked.push(query);
    const [after, most] = [Number(query.get('after')), Math.min(500, Number(query.get('most')))];
    const runs = Array.from({ length: Math.max(0, Math.min(most, total - after)) }, (_, i) => line(after + i));
    return Promise.resolve(new Response(JSON.stringify({ total, runs })));
  });
  return asked;
}

afterEach(() => vi.unstubAllGlobals());

describe('the list', () => {
  test.each([
    [61, 50, 50, 1],
    [1_200, 1_150, 1_150, 3],
    [61, 600, 61, 1],
    [0, 50, 0, 1],
  ])('of %d runs, %d of them wanted, has %d in %d steps', async (total, most, had, steps) => {
    const asked = serve(total);
    const answer = await fetchRuns({ ...EVERY_RUN, words: 'ginger' }, 0, most);
    expect(answer).toMatchObject({ ok: true, value: { total } });
    expect(answer.ok && answer.value.runs.map(({ run }) => run)).toEqual(
      Array.from({ length: had }, (_, i) => `r${i}`),
    );
    expect(asked).toHaveLength(steps);
    expect(asked.every((query) => query.get('words') === 'ginger' && !query.has('tag'))).toBe(true);
  });

  test('of the bin is all of it', async () => {
    const asked = serve(1_001);
    const answer = await fetchBin();
    expect(answer.ok && answer.value.runs).toHaveLength(1_001);
    expect(asked.map((query) => query.get('bin'))).toEqual(['yes', 'yes', 'yes']);
  });

  test('has nothing twice when a run moved down between two steps', () => {
    const more = withMore({ total: 3, runs: [line(0), line(1)] }, { total: 4, runs: [line(1), line(2)] });
    expect([more.total, more.runs.map(({ run }) => run)]).toEqual([4, ['r0', 'r1', 'r2']]);
  });

  test('is looked for by what was kept only where that is whole', () => {
    expect([isWish(EVERY_RUN), isWish({ ...EVERY_RUN, tag: 3 }), isWish({ words: '', order: 'newest' })]).toEqual([
      true,
      false,
      false,
    ]);
  });
});
