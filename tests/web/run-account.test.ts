/** The account of a stored run as its page makes it. */
import { expect, test } from 'vitest';
import { accountOfRun } from '../../web/run-account.ts';
import { OPENED } from '../support/scenes.ts';

test('the afternoon in figures', () => {
  const account = accountOfRun(OPENED);
  expect(account.stays.map(({ phase }) => phase)).toEqual(['melt', 'cool', 'rewarm', 'work']);
  // The scene's course: coolest 26.9 at 46 min, 32.9 at 95 min.
  expect(account).toMatchObject({ lastedS: 118 * 60, coolestC: 26.9, peakAfterSeedC: 32.9, overByC: 0.4, unseenS: 0 });
});
