/** What a sentence says of the temperature adds up with the number that stands beside it. */
import { beforeAll, describe, expect, test } from 'vitest';
import type { EventBody } from '../../server/core/record/event.ts';
import { saidTempC, isApart } from '../../web/said-temperature.ts';
import type { Moment } from '../../web/words/sentence.ts';
import { takeTroubleWords } from '../../web/trouble.ts';
import { sentence } from '../../web/words/sentence.ts';
import * as inFull from '../../web/words/trouble.ts';
import { AGO, at, enter, NOW_MS, PROFILE, raised, stands, viewOf } from '../support/moments.ts';

/** The probe says one thing, and the estimate of the chocolate is another. */
function told(readC: number, estimateC: number, more: Partial<Moment> = {}): Moment {
  return at(
    estimateC,
    { rateCPerMin: 0 },
    { reading: { valueC: readC, atMs: NOW_MS - 500, quality: 'good' }, ...more },
  );
}

beforeAll(() => takeTroubleWords(inFull));

const IN_TEMPER = [AGO, stands('in-temper', 'seeded-and-rewarmed')] as const;

describe('the said temperature', () => {
  test.each([
    ['close together: the number on the page', told(34.2, 34.3), 34.2, false],
    ['apart, and the page says both: the chocolate', told(33.9, 34.3), 34.3, true],
    ['the probe is out of the bowl', told(34.2, 34.3, { probeOutSinceMs: NOW_MS - 4_000 }), 34.3, false],
    ['the number is an old one', told(34.2, 34.3, { stale: true }), 34.3, false],
    ['nothing was read', told(34.2, 34.3, { reading: null }), 34.3, false],
    ['nothing is known of the chocolate', told(34.2, 34.3, { estimate: null }), null, false],
  ])('%s', (_, now, saidC, apart) => {
    expect(saidTempC(now)).toBe(saidC);
    expect(isApart(now)).toBe(apart);
  });
});

describe('sentences', () => {
  const overshoot: EventBody = { ...raised, alarm: 'overshoot' };
  const lost: EventBody = { ...raised, alarm: 'temper-lost', severity: 'critical', limitC: 34 };

  test.each([
    ['temper lost', [5, lost] as const, told(34.2, 34.3), '0.2 over the 34 limit of temper for 5 s.'],
    ['over the ceiling', [5, overshoot] as const, told(32.9, 32.8), '0.4 over the 32.5 ceiling for 5 s.'],
    [
      'still under the bound it went over',
      [5, overshoot] as const,
      told(32.4, 32.6),
      'Just at the 32.5 ceiling for 5 s.',
    ],
    ['far behind the chocolate', [5, overshoot] as const, told(32.4, 33), '0.5 over the 32.5 ceiling for 5 s.'],
    ['in the work', IN_TEMPER, told(31.5, 31.6), 'Holding for 24 min, 1.0 under the ceiling.'],
    ['at the ceiling', IN_TEMPER, told(32.1, 32), 'Holding for 24 min, 0.4 under the ceiling.'],
    ['above the band', IN_TEMPER, told(32.2, 32.3), '0.2 over the band.'],
    ['above it, the number not yet', IN_TEMPER, told(32, 32.1), 'Just over the band.'],
    ['below it, the number not yet', IN_TEMPER, told(31, 30.9), 'Just under the band, for seconds at a time.'],
  ])('%s', (_, told, now, detail) => {
    expect(sentence(viewOf([AGO, enter('four')], told), now, PROFILE).detail).toBe(detail);
  });
});
