/**
 * A probe that is being checked, between runs: watched for as long as somebody keeps asking. Meanwhile what it reads is no chocolate, so
 * nothing begins by itself and no heat is warned of. Sets no correction: a command does.
 */
import { correctionOf, type Uncertainty, uncertaintyAt, WORK_C } from '../core/check/correction.ts';
import { type Reference, referenceOf, type Standard } from '../core/check/standard.ts';
import { startWatch, steadiness, type Steadiness, type Watch, watchSteady } from '../core/check/steady.ts';
import type { CheckPoint } from '../core/record/check.ts';
import type { Correction, Reading } from '../core/record/run.ts';

/** A page that is not asked for so long has left, ms. Ours: one in the background is let ask once a minute. */
export const ASKED_WITHIN_MS = 90_000;

/** What a page says when it asks: what the probe is held in now, null where that is not clear yet, and the points noted so far. */
export interface CheckAsked {
  readonly standard: Standard | null;
  readonly points: readonly CheckPoint[];
}

/** How a check stands. */
export interface CheckStands {
  readonly steadiness: Steadiness;
  /** What it should read; null: not said yet what it is held against. */
  readonly reference: Reference | null;
  /** What may be noted now; null: it is not steady, or not held against anything. */
  readonly point: CheckPoint | null;
  /** What the points so far give. */
  readonly outcome: CheckOutcome;
}

export type CheckOutcome =
  | { readonly is: 'nothing' }
  /** One of the points is so far off that no correction is to be believed. */
  | { readonly is: 'too-far-off' }
  /** `at`: where the uncertainty is reckoned, °C. */
  | { readonly is: 'found'; readonly correction: Correction; readonly atC: number; readonly uncertainty: Uncertainty };

export class Checking {
  #watch: Watch = startWatch();
  #askedAtMs = -Infinity;

  isGoing(atMs: number): boolean {
    return atMs - this.#askedAtMs < ASKED_WITHIN_MS;
  }

  /** True once after each check, when it was left or not asked for any longer. */
  isLeft(atMs: number): boolean {
    if (this.#askedAtMs === -Infinity || this.isGoing(atMs)) return false;
    this.leave();
    return true;
  }

  leave(): void {
    this.#askedAtMs = -Infinity;
  }

  /** `correction`: the one in use, for a check is about what the probe itself says. */
  take(readings: readonly Reading[], { offsetC, gain }: Correction): void {
    for (const { role, atMs, valueC, quality } of readings)
      if (role === 'chocolate' && quality !== 'rejected')
        watchSteady(this.#watch, { atMs, valueC: (valueC - offsetC) / gain });
  }

  /** Asked for anew: who held it against nothing until now begins a minute of its own. */
  ask({ standard, points }: CheckAsked, atMs: number): CheckStands {
    if (!this.isGoing(atMs)) this.#watch = startWatch();
    this.#askedAtMs = atMs;
    const stands = steadiness(this.#watch);
    const reference = standard === null ? null : referenceOf(standard);
    return {
      steadiness: stands,
      reference,
      point: standard === null || reference === null ? null : pointOf(standard, reference, stands),
      outcome: outcomeOf(points),
    };
  }
}

/** To the thousandth of a degree, as everything that is kept of it. */
function pointOf(standard: Standard, { trueC, withinC }: Reference, stands: Steadiness): CheckPoint | null {
  if (stands.state !== 'steady' || stands.meanC === null) return null;
  const { meanC, spreadC, stepC, readings } = stands;
  const measured = { readC: thousandth(meanC), spreadC: thousandth(spreadC), stepC: thousandth(stepC), readings };
  const held = { against: standard.against, trueC: thousandth(trueC), withinC: thousandth(withinC), ...measured };
  return standard.against === 'steam' ? { ...held, air: standard.air } : held;
}

function thousandth(value: number): number {
  return Math.round(value * 1000) / 1000;
}

function outcomeOf(points: readonly CheckPoint[]): CheckOutcome {
  const uncertainty = uncertaintyAt(points, WORK_C);
  if (uncertainty === null) return { is: 'nothing' };
  const correction = correctionOf(points);
  return correction === null ? { is: 'too-far-off' } : { is: 'found', correction, atC: WORK_C, uncertainty };
}
