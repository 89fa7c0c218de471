/** How far off a checked thermometer may be: in plain words, and once for a metrologist. */
import { expect, test } from 'vitest';
import { partsWords, SURE_WORDS } from '../../web/words/belief.ts';
import { outcomeWords } from '../../web/words/check.ts';

const UNCERTAINTY = { biasC: 0.24, noiseC: 0.12, withinC: 0.27 };

test('what comes of a check is plain: what it is, and then by how much', () => {
  expect(partsWords(UNCERTAINTY)).toBe('The same all evening: up to 0.2. From one reading to the next: up to 0.1.');
  const found = outcomeWords({
    is: 'found',
    correction: { offsetC: -0.4, gain: 1 },
    atC: 32,
    uncertainty: UNCERTAINTY,
  });
  expect(found).toMatch(/^Corrected, 31\.4 is between 31\.1 and 31\.7\. /);
  expect(found).not.toMatch(/k\s=|JCGM/);
});

test('the coverage factor is never broken over two lines', () => {
  expect(SURE_WORDS).toContain('k\u00a0=\u00a02');
  expect(SURE_WORDS).not.toMatch(/\(\S* /);
});
