/**
 * Newton's law of cooling, T(t) = bath + (T0 − bath)·e^(−t/τ), whose time to a temperature is known in closed form: τ·ln((T − bath)/(edge − bath)).
 * The engine knows neither bath nor τ; it sees readings alone.
 */
import { describe, expect, test } from 'vitest';
import { estimateAt } from '../../server/core/engine.ts';
import { Bowl } from '../support/bowl.ts';
import { shipped } from '../support/shipped.ts';

/** Time constants of bowls in a bath lie between 4 and 36 min: hemispherical bowls of 0.3 to 5 kg, own arithmetic on book values. */
const APPROACHES = [
  { bathC: 14, tauS: 300 },
  { bathC: 10, tauS: 480 },
  { bathC: 22, tauS: 600 },
  { bathC: 14, tauS: 720 },
  { bathC: 18, tauS: 900 },
  { bathC: 14, tauS: 1500 },
];
const FROM_C = 45;
/** Near edge of dark's cooling band, °C. */
const EDGE_C = 28;
/** Of the time that is really left. Half the way is left to learn bath and τ by; of the other half a share may be missed. */
const SHARE = 0.15;
/** Times are told in whole seconds, and readings in hundredths of a degree. */
const ROUNDED_S = 2;

/** What was foretold, and what was really left, at each tenth of the second half of the way; and at which temperature. */
function foretold({ bathC, tauS }: (typeof APPROACHES)[number]) {
  const bowl = new Bowl(shipped('dark'), FROM_C, { probeLagS: 4 });
  bowl.start('cool').hold(30);
  const leftS = () => tauS * Math.log((bowl.tempC - bathC) / (EDGE_C - bathC));
  const wholeS = leftS();
  const seen: { leftS: number; etaS: number | null; offC: number; rateShare: number }[] = [];
  for (let tenth = 5; tenth >= 1; tenth -= 1) {
    while (leftS() > (wholeS * tenth) / 10) bowl.drift(bathC, tauS, 1);
    const { etaS, tempC, rateCPerMin } = estimateAt(bowl.state, bowl.atMs)!;
    const trueRate = (60 * (bathC - bowl.tempC)) / tauS;
    seen.push({ leftS: leftS(), etaS, offC: tempC - bowl.tempC, rateShare: rateCPerMin / trueRate - 1 });
  }
  return seen;
}

describe.each(APPROACHES)('cooling towards $bathC °C with τ = $tauS s', (approach) => {
  const seen = foretold(approach);

  test('the time to the band is that of the closed form, within 15 % of it', () => {
    for (const { leftS, etaS } of seen) {
      expect(etaS).not.toBeNull();
      expect(Math.abs(etaS! - leftS)).toBeLessThanOrEqual(SHARE * leftS + ROUNDED_S);
    }
  });

  test('temperature and rate are those of the closed form, within 0.05 °C and 5 %', () => {
    for (const { offC, rateShare } of seen) {
      expect(Math.abs(offC)).toBeLessThanOrEqual(0.05);
      expect(Math.abs(rateShare)).toBeLessThanOrEqual(0.05);
    }
  });
});
