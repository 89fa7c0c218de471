/** What things are called on the page. */
import { describe, expect, it } from 'vitest';
import { numberName } from '../../web/words/number-names.ts';
import { shipped } from '../support/shipped.ts';

describe('the name of a number', () => {
  it('is its phase and what it bounds, and every source of a shipped profile has one', () => {
    expect(numberName('phases.cool.bandC')).toBe('Cool, band');
    expect(numberName('onLost')).toBe('After temper is lost');
    for (const id of ['dark', 'milk', 'white']) {
      for (const path of Object.keys(shipped(id).sources ?? {})) expect(numberName(path)).not.toContain('phases.');
    }
  });
});
