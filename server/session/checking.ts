/**
 * A probe that is being checked, between runs: watched for as long as somebody keeps asking. Meanwhile what it reads is of no bowl, so
 * nothing begins by itself. Sets no correction: a command does.
 */
import { correctionOf, OFF_MOST_C, uncertaintyAt, WORK_C } from '../core/check/correction.ts';
import { type Reference, referenceOf, type Standard } from '../core/check/standard.ts';
import { startWatch, steadiness, type Steadiness, type Watch, watchSteady } from '../core/check/steady.ts';
import type { CheckAsked, CheckOutcome, CheckStands, ProbeNamed, RoleInUse } from '../core/check/told.ts';
import type { CheckPoint } from '../core/record/check.ts';
import type { Correction, Reading } from '../core/record/run.ts';

/** A page that is not asked for so long has left, ms. Ours: one in the background is let ask once a minute. */
export const ASKED_WITHIN_MS = 90_000;

/** A probe, and by what its readings are known in this bowl. */
export type Watched = ProbeNamed & { readonly role: RoleInUse };

export class Checking {
  #watch: Watch = startWatch();
  #watched: Watched | null = null;
  #askedAtMs = -Infinity;

  isGoing(atMs: number): boolean {
    return atMs - this.#askedAtMs < ASKED_WITHIN_MS;
  }

  /** What is watched now; null: nothing. */
  watched(atMs: number): Watched | null {
    return this.isGoing(atMs) ? this.#watched : null;
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

  /** Of the thermometer that is watched. `correction`: the one in use, for a check is about what the probe itself says. */
  take(readings: readonly Reading[], { offsetC, gain }: Correction): void {
    for (const { role, atMs, valueC, quality } of readings)
      if (role === this.#watched?.role && quality !== 'rejected')
        watchSteady(this.#watch, { atMs, valueC: (valueC - offsetC) / gain });
  }

  /** Asked for anew, or of another probe: that begins a minute of its own. `wallMs`: what the clock on the wall says. */
  ask({ standard, points, isWatched = true }: CheckAsked, probe: Watched, atMs: number, wallMs: number): CheckStands {
    if (isWatched) this.#watchFor(probe, atMs);
    // Of no other probe, and not of the check before: where none is watched nothing is known.
    const stands = steadiness(isWatched ? this.#watch : startWatch());
    const reference = standard === null ? null : referenceOf(standard);
    return {
      // As a point would have it: the same figure is read while it is watched and once it is noted.
      steadiness: { ...stands, meanC: stands.meanC === null ? null : thousandth(stands.meanC) },
      reference,
      point: standard === null || reference === null ? null : pointOf(standard, reference, stands),
      outcome: outcomeOf(points),
      atWall: new Date(wallMs).toISOString(),
    };
  }

  #watchFor(probe: Watched, atMs: number): void {
    if (!this.isGoing(atMs) || !isSame(probe, this.#watched)) this.#watch = startWatch();
    this.#watched = probe;
    this.#askedAtMs = atMs;
  }
}

function isSame(a: Watched, b: Watched | null): boolean {
  return a.source === b?.source && a.channel === b.channel && a.role === b.role;
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
  return correction === null
    ? { is: 'too-far-off', mostC: OFF_MOST_C }
    : { is: 'found', correction, atC: WORK_C, uncertainty };
}
