/**
 * A bowl on approaches of its own, read once a second through a lagging probe with stirring noise, and what is believed of it.
 * Holds no assertion. The noise is seeded: the same bowl gives the same readings each time.
 */
import { NO_BELIEF, copyBelief, takeReading } from '../../../server/core/bowl/belief.ts';
import type { Belief, Verdict } from '../../../server/core/bowl/belief.ts';
import type { Baths, Likely } from '../../../server/core/bowl/courses.ts';
import { arrival } from '../../../server/core/bowl/forecast.ts';
import type { Arrival } from '../../../server/core/bowl/forecast.ts';
import { bowlOf, coursesOf } from '../../../server/core/bowl/stretch.ts';
import type { Bowl } from '../../../server/core/bowl/stretch.ts';
import { chance } from '../../../server/source/kitchen/chance.ts';

export const UNKNOWN_BATHS: Baths = { hot: null, cold: null };

/** Stirring noise resembles itself for so long, seconds: the middle of what stirred bowls show. */
const SWIRL_S = 4;
const LAG_S = 4;

export class Watched {
  readonly belief: Belief = copyBelief(NO_BELIEF);
  readonly verdicts: Verdict[] = [];
  atMs = 0;
  /** The chocolate, °C. */
  tempC: number;
  /** Size of the stirring noise, °C r.m.s.; 0: none. */
  swingC: number;
  private probeC: number;
  private noiseC = 0;
  private readonly luck;
  private readonly baths: Baths;

  constructor(tempC: number, { seed = 1, swingC = 0.1, baths = UNKNOWN_BATHS } = {}) {
    this.tempC = tempC;
    this.probeC = tempC;
    this.swingC = swingC;
    this.luck = chance(seed);
    this.baths = baths;
  }

  /** Approaches a level as Newton says, time constant in seconds; `melting`: what share of the pace is left at a temperature. */
  drift(levelC: number, tauS: number, seconds: number, melting: (tempC: number) => number = () => 1): this {
    for (let s = 0; s < seconds; s++) {
      const share = 1 - Math.exp(-melting(this.tempC) / tauS);
      this.second(this.tempC + share * (levelC - this.tempC));
    }
    return this;
  }

  hold(seconds: number): this {
    return this.drift(this.tempC, 1, seconds);
  }

  /** The thermometer says exactly this, whatever the bowl does. */
  says(valueC: number, seconds: number): this {
    for (let s = 0; s < seconds; s++) this.read(valueC);
    return this;
  }

  get bowl(): Bowl {
    const { stretch, filter, liveliness } = this.belief;
    return bowlOf(stretch!, filter!, liveliness!.mixing);
  }

  get courses(): Likely[] {
    return coursesOf(this.belief.stretch!, this.belief.filter!);
  }

  arrivalAt(targetC: number): Arrival | null {
    const agoS = (this.atMs - this.belief.stretch!.courses.atMs) / 1000;
    return arrival(this.courses, agoS, this.bowl.tempC, targetC, targetC > this.bowl.tempC ? 1 : -1);
  }

  private second(tempC: number): void {
    this.probeC += ((this.tempC + tempC) / 2 - this.probeC) * (1 - Math.exp(-1 / LAG_S));
    this.tempC = tempC;
    const kept = Math.exp(-1 / SWIRL_S);
    this.noiseC = kept * this.noiseC + this.swingC * Math.sqrt(1 - kept * kept) * this.luck.normal();
    this.read(this.probeC + this.noiseC);
  }

  private read(valueC: number): void {
    this.atMs += 1000;
    const readC = Math.round(valueC * 100) / 100;
    this.verdicts.push(
      takeReading(this.belief, this.atMs, readC, {
        plausibleC: [-34, 112],
        lowestBoundC: 26,
        lagS: LAG_S,
        baths: this.baths,
        wallS: null,
        melting: 'solid',
      }),
    );
  }
}
