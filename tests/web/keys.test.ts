/** Keys and pedals: any key can be taught, each does one thing. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { actionOf, isKeys, KEY_ACTIONS, USUAL_KEYS } from '../../web/keys.ts';
import { canBeTaught, taught } from '../../web/taught-keys.ts';
import { KEY_DOES, keyName } from '../../web/words/keys.ts';

describe('keys', () => {
  test('the usual ones do what their names say, with the shift lock on too', () => {
    expect(['n', 'N', ' ', 'ArrowRight', 'L', 'm', 'x'].map((key) => actionOf(USUAL_KEYS, key))).toEqual([
      'note',
      'note',
      'seen',
      'next',
      'lock',
      'sound',
      null,
    ]);
  });

  test('any taught key does its act, and nothing else any more', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...KEY_ACTIONS),
        fc.constantFrom('b', 'N', ' ', 'PageDown', 'F13', 'Enter'),
        (action, key) => {
          const keys = taught(USUAL_KEYS, action, key);
          expect(actionOf(keys, key)).toBe(action);
          const named = KEY_ACTIONS.map((each) => keys[each]).filter((name) => name !== null);
          expect(new Set(named).size).toBe(named.length);
          expect(isKeys(JSON.parse(JSON.stringify(keys)))).toBe(true);
        },
      ),
    );
  });

  test('what walks and closes the page is never taught', () => {
    expect(['Tab', 'Escape', 'Shift', ''].map(canBeTaught)).toEqual([false, false, false, false]);
    expect(canBeTaught('PageDown')).toBe(true);
  });

  test('what was kept is taken only whole', () => {
    for (const broken of [null, [], {}, { ...USUAL_KEYS, next: 7 }]) expect(isKeys(broken)).toBe(false);
  });

  test('each key and act has a name a person can find', () => {
    expect(KEY_ACTIONS.map((action) => `${KEY_DOES[action]}: ${keyName(USUAL_KEYS[action])}`)).toEqual([
      'Note it: N',
      'Seen: Space',
      'Next phase: Arrow right',
      'Lock: L',
      'Sound on or off: M',
    ]);
    expect(keyName(null)).toBe('no key');
  });
});
