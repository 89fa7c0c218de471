/** What really went on in one bowl, and what would have gone on had nobody touched it. Knows nothing of who watched. */
import { firstDownIndex, nearEdgeC, phaseIndex } from '../../server/core/show/course.ts';
import type { Phase } from '../../server/core/record/profile.ts';
import { TICK_S } from '../../server/source/kitchen/bench.ts';
import { later, type Kitchen } from '../../server/source/kitchen/bowl.ts';
import type { Case } from './kitchens.ts';

/** Arrivals are judged with this long to go, s; in the first melt only once the pieces are gone. */
const ETA_LEFT_S: readonly [number, number] = [20, 900];
const MELTED_C = 35;

/** A stretch during which the chocolate was beyond a bound. */
export interface Excursion {
  readonly fromS: number;
  readonly toS: number;
  readonly limitC: number;
  readonly extremeC: number;
}

/** This far over the limit temper is lost for sure, so far under it surely not, °C. */
export const LOST_MARGIN_C = 0.3;

export class Truth {
  private readonly kitchen: Case;
  private readonly phaseOf: ReadonlyMap<string, { readonly phase: Phase; readonly index: number }>;
  readonly seeded: number;

  constructor(kitchen: Case) {
    this.kitchen = kitchen;
    this.phaseOf = new Map(kitchen.profile.phases.map((phase, index) => [phase.id, { phase, index }]));
    this.seeded = firstDownIndex(kitchen.profile);
  }

  get ticks(): number {
    return this.kitchen.course.kitchens.length;
  }
  kitchenAt(atS: number): Kitchen {
    const { kitchens } = this.kitchen.course;
    const found = kitchens[Math.min(kitchens.length - 1, Math.max(0, Math.floor(atS / TICK_S)))];
    if (found === undefined) throw new RangeError('an empty run');
    return found;
  }
  atC(atS: number): number {
    return this.kitchenAt(atS).chocolateC;
  }
  /** Highest the chocolate was between two moments, °C. */
  highestC(fromS: number, toS: number): number {
    let highest = -Infinity;
    for (let atS = fromS; atS <= toS; atS += TICK_S) highest = Math.max(highest, this.atC(atS));
    return highest;
  }
  /** Highest it would get within `seconds` if nobody did anything from here, °C. */
  unchangedHighestC(fromS: number, seconds: number): number {
    let now = this.kitchenAt(fromS);
    let highest = now.chocolateC;
    for (let second = 0; second < seconds; second += 1) {
      now = later(now, 1);
      highest = Math.max(highest, now.chocolateC);
    }
    return highest;
  }
  /** The ceiling that counts for the hands at this tick; none before the seed was made. */
  ceilingAt(tick: number): number | undefined {
    const found = this.phaseAt(tick);
    if (found === undefined || found.index <= this.seeded || this.kitchen.handling === 'under-cools') return undefined;
    return found.phase.ceilingC;
  }
  floorAt(tick: number): number | undefined {
    const found = this.phaseAt(tick);
    return found?.phase.heading === 'down' ? found.phase.floorC : undefined;
  }
  /** The limit above which no seed is left, with something added, °C; none before the seed was made. */
  lostAt(tick: number, addedC = 0): number | undefined {
    const found = this.phaseAt(tick);
    if (found === undefined || found.index <= this.seeded || this.kitchen.handling === 'under-cools') return undefined;
    return found.phase.lostAboveC === undefined ? undefined : found.phase.lostAboveC + addedC;
  }
  /** True once the chocolate has come within the margin of that limit. */
  nearlyLostBy(byS: number): boolean {
    for (let tick = 0; tick < this.ticks && tick * TICK_S <= byS; tick += 1) {
      const limitC = this.lostAt(tick, -LOST_MARGIN_C);
      if (limitC !== undefined && this.atC(tick * TICK_S) > limitC) return true;
    }
    return false;
  }
  private phaseAt(tick: number): { readonly phase: Phase; readonly index: number } | undefined {
    return this.phaseOf.get(this.kitchen.course.phases[tick] ?? '');
  }

  /** Stretches above (`sign` 1) or below (-1) a bound; one ends once the chocolate is back by `backC`. */
  excursions(limitAt: (tick: number) => number | undefined, sign: 1 | -1, backC: number): Excursion[] {
    const found: Excursion[] = [];
    let open: { fromS: number; limitC: number; extremeC: number } | null = null;
    for (let tick = 0; tick < this.ticks; tick += 1) {
      const limitC = limitAt(tick);
      const nowC = this.atC(tick * TICK_S);
      if (open !== null && (limitC === undefined || sign * (nowC - open.limitC) < -backC)) {
        found.push({ ...open, toS: tick * TICK_S });
        open = null;
      }
      if (limitC === undefined) continue;
      if (open === null && sign * (nowC - limitC) > 0) open = { fromS: tick * TICK_S, limitC, extremeC: nowC };
      if (open !== null && sign * (nowC - open.extremeC) > 0) open.extremeC = nowC;
    }
    if (open !== null) found.push({ ...open, toS: this.ticks * TICK_S });
    return found;
  }

  /** When the bowl was last set onto the heat before this moment, s. */
  lastHeatedS(beforeS: number): number {
    let atS = Math.min(beforeS, (this.ticks - 1) * TICK_S);
    while (atS > 0 && this.kitchenAt(atS).around.kind !== 'hot-bath') atS -= TICK_S;
    while (atS > 0 && this.kitchenAt(atS).around.kind === 'hot-bath') atS -= TICK_S;
    return atS;
  }
  changedBetween(fromS: number, toS: number): boolean {
    return this.kitchen.course.changesS.some((changeS) => changeS >= fromS && changeS <= toS);
  }
}

/** When the chocolate really gets to the near edge of a phase, where nobody changed anything until then. */
export class Arrivals {
  private readonly kitchen: Case;
  private readonly truth: Truth;
  private readonly found = new Map<string, Float64Array>();

  constructor(kitchen: Case, truth: Truth) {
    this.kitchen = kitchen;
    this.truth = truth;
  }

  /** Seconds left, or null where that is not to be judged. */
  leftS(phaseId: string, atS: number): number | null {
    const { profile } = this.kitchen;
    const index = phaseIndex(profile, phaseId);
    const phase = profile.phases[index];
    if (phase === undefined || phase.heading === 'hold') return null;
    if (index < this.truth.seeded && this.truth.atC(atS) < MELTED_C) return null;
    const arrivesS = this.arrivalsOf(phase)[Math.floor(atS / TICK_S)] ?? Infinity;
    const leftS = arrivesS - atS;
    if (leftS < ETA_LEFT_S[0] || leftS > ETA_LEFT_S[1] || this.truth.changedBetween(atS, arrivesS)) return null;
    return leftS;
  }

  private arrivalsOf(phase: Phase): Float64Array {
    const known = this.found.get(phase.id);
    if (known !== undefined) return known;
    const arrivals = new Float64Array(this.truth.ticks);
    let arrivesS = Infinity;
    for (let tick = arrivals.length - 1; tick >= 0; tick -= 1) {
      const overC = this.truth.atC(tick * TICK_S) - nearEdgeC(phase);
      if (phase.heading === 'up' ? overC >= 0 : overC <= 0) arrivesS = tick * TICK_S;
      arrivals[tick] = arrivesS;
    }
    this.found.set(phase.id, arrivals);
    return arrivals;
  }
}
