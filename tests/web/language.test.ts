/** Which language is spoken to whom. */
import { expect, test } from 'vitest';
import { languageFor, LANGUAGES } from '../../web/words/language.ts';

test.each([
  [['en-GB', 'de'], 'en'],
  [['EN'], 'en'],
  [['xx-YY', 'en'], 'en'],
  [['xx'], 'en'],
  [[], 'en'],
])('%j: %s', (wanted, spoken) => {
  expect(languageFor(wanted)).toBe(spoken);
  expect(LANGUAGES).toContain(spoken);
});
