/**
 * Holds what a watcher said against the truth of one run, and tallies it. Says how each figure is meant; adds nothing up
 * over runs and prints nothing.
 */
import type { EventBody, RunEvent } from '../../server/core/record/event.ts';
import { nearEdgeC, phaseIndex } from '../../server/core/show/course.ts';
import { coastsToC, TICK_S } from '../../server/source/kitchen/bench.ts';
import { later } from '../../server/source/kitchen/bowl.ts';
import type { Mishap } from '../../server/source/kitchen/probe.ts';
import type { Case } from './kitchens.ts';
import { emptyTally, type Tally } from './tally.ts';
import { Arrivals, LOST_MARGIN_C, Truth, type Excursion } from './truth.ts';
import { ASK_S, type Watched } from './watchers.ts';

/** A phase counts as wrongly entered when the chocolate is further than this from the edge that was to be reached, °C. */
const FAR_FROM_EDGE_C = 0.5;
/** An overshoot or undershoot worth telling goes this far beyond its bound, °C. */
const WORTH_TELLING_C = 0.2;
/** An overshoot alarm with the chocolate this far under the ceiling is false, °C. */
const WELL_UNDER_C = 0.25;
/** A warning ahead is false where nothing comes this close within that time. */
const COMES_NEAR_C = 0.1;
const COMES_WITHIN_S = 180;
/** The oracle warns once the unchanged kitchen crosses within this, s. */
export const ORACLE_S = 120;
/** A warning this long before a crossing is about that crossing, s. */
const ABOUT_IT_S = 180;
/** A cue to take it off may be this early, s. */
const EARLY_S = 15;
/** Temper counts as lost for sure this long at that margin over the limit. */
const LOST_FOR_S = 60;

export function judge(kitchen: Case, watched: Watched): Tally {
  const tally = emptyTally();
  tally.hours = kitchen.hours;
  tally.readings = kitchen.samples.length;
  tally.tookMs = watched.tookMs;
  const truth = new Truth(kitchen);
  judgePhases(kitchen, watched, truth, tally);
  judgeOvershoots(kitchen, watched, truth, tally);
  judgeWarnings(kitchen, watched, truth, tally);
  judgeOffHeat(kitchen, watched, truth, tally);
  judgeUndershoots(kitchen, watched, truth, tally);
  judgeLosses(kitchen, watched, truth, tally);
  judgeUnderCooling(kitchen, watched, truth, tally);
  judgeEstimates(kitchen, watched, truth, tally);
  judgeCalm(kitchen, watched, truth, tally);
  return tally;
}

type Raised = Extract<EventBody, { kind: 'alarm-raised' }> & { readonly atMs: number };
type Cue = Extract<EventBody, { kind: 'cue' }> & { readonly atMs: number };

function raised(watched: Watched, name: Raised['alarm']): Raised[] {
  return watched.events.filter(
    (event): event is RunEvent & Raised => event.kind === 'alarm-raised' && event.alarm === name,
  );
}

/** Each time an alarm was on, s. */
function spansOf(watched: Watched, name: Raised['alarm']): { readonly fromS: number; readonly toS: number }[] {
  return raised(watched, name).map(({ atMs }) => {
    const cleared = watched.events.find(
      (event) => event.kind === 'alarm-cleared' && event.alarm === name && event.atMs >= atMs,
    );
    return { fromS: atMs / 1000, toS: cleared === undefined ? Infinity : cleared.atMs / 1000 };
  });
}

function note(tally: Tally, kitchen: Case, atS: number, what: string): void {
  const meanwhile = mishapAt(kitchen, atS, AFTERMATH_S);
  const mishap = meanwhile === undefined ? '' : ` [${meanwhile.kind}]`;
  tally.wrong.push(
    `seed ${kitchen.seed} ${kitchen.handling} ${kitchen.profile.id} ${atS.toFixed(1)} s: ${what}${mishap}`,
  );
}

/** What was happening to the probe at this moment, or up to `afterS` before it. */
function mishapAt(kitchen: Case, atS: number, afterS: number, kind?: Mishap['kind']): Mishap | undefined {
  return kitchen.mishaps.find((mishap) => {
    if (kind !== undefined && mishap.kind !== kind) return false;
    const [fromS, toS] = 'atS' in mishap ? [mishap.atS, mishap.atS] : [mishap.fromS, mishap.toS];
    return fromS <= atS && atS <= toS + afterS;
  });
}
const AFTERMATH_S = 60;

function judgePhases(kitchen: Case, watched: Watched, truth: Truth, tally: Tally): void {
  const { profile, handling } = kitchen;
  const last = profile.phases.at(-1)?.id;
  for (const event of watched.events) {
    if (event.kind !== 'phase-entered' || event.by !== 'reached' || event.from === null) continue;
    tally.phasesEntered += 1;
    const left = profile.phases[phaseIndex(profile, event.from)];
    if (left === undefined) continue;
    const nowC = truth.atC(event.atMs / 1000);
    const shortC = left.heading === 'up' ? nearEdgeC(left) - nowC : nowC - nearEdgeC(left);
    if (shortC <= FAR_FROM_EDGE_C) continue;
    tally.phasesWrong += 1;
    note(tally, kitchen, event.atMs / 1000, `${event.phase} entered ${shortC.toFixed(2)} °C short of ${left.id}`);
  }
  if (handling === 'under-cools' || handling === 'loses' || handling === 'recovers') return;
  tally.shouldFollow += 1;
  if (
    watched.events.some((event) => event.kind === 'phase-entered' && event.phase === last && event.by === 'reached')
  ) {
    tally.followed += 1;
  } else note(tally, kitchen, kitchen.hours * 3600, `never got to ${last}`);
}

function judgeOvershoots(kitchen: Case, watched: Watched, truth: Truth, tally: Tally): void {
  const excursions = truth.excursions((tick) => truth.ceilingAt(tick), 1, WORTH_TELLING_C);
  const spans = [...spansOf(watched, 'overshoot'), ...spansOf(watched, 'temper-lost')].toSorted(
    (one, other) => one.fromS - other.fromS,
  );
  for (const excursion of excursions) {
    if (excursion.extremeC < excursion.limitC + WORTH_TELLING_C) continue;
    tally.overshoots += 1;
    const told = spans.find((span) => span.toS > excursion.fromS && span.fromS < excursion.toS + 30);
    if (told === undefined) {
      tally.overshootsMissed += 1;
      note(tally, kitchen, excursion.fromS, `overshoot to ${excursion.extremeC.toFixed(2)} missed`);
    } else {
      tally.overshootDelaysS.push(told.fromS - excursion.fromS);
    }
    judgeLead(kitchen, watched, truth, tally, excursion);
  }
  for (const alarm of raised(watched, 'overshoot')) {
    const nowC = truth.atC(alarm.atMs / 1000);
    if (alarm.limitC === null || nowC >= alarm.limitC - WELL_UNDER_C) continue;
    tally.overshootsFalse += 1;
    note(tally, kitchen, alarm.atMs / 1000, `overshoot told at ${nowC.toFixed(2)}, limit ${alarm.limitC}`);
  }
  if (excursions.length > 0) return;
  tally.neverOver += 1;
  tally.aheadWhereNeverOver += raised(watched, 'overshoot-ahead').length;
}

function judgeLead(kitchen: Case, watched: Watched, truth: Truth, tally: Tally, excursion: Excursion): void {
  const { fromS, limitC } = excursion;
  const heatedS = truth.lastHeatedS(fromS);
  const sinceS = Math.max(heatedS, fromS - ABOUT_IT_S);
  const first = watched.events.find(
    (event) => event.atMs / 1000 >= sinceS && event.atMs / 1000 < fromS && foretellsOvershoot(event),
  );
  // A warning given earlier still, since this heating began, that stands all the while is about this crossing too.
  const stands = spansOf(watched, 'overshoot-ahead').some(
    (span) => span.fromS >= heatedS && span.fromS < sinceS && span.toS > sinceS,
  );
  const toldS = stands ? sinceS : first === undefined ? null : first.atMs / 1000;
  if (toldS === null) note(tally, kitchen, fromS, 'overshoot not told before the crossing');
  else tally.overshootsTold += 1;
  let oracleS = fromS;
  while (oracleS - 2 > sinceS && truth.unchangedHighestC(oracleS - 2, ORACLE_S) > limitC) oracleS -= 2;
  if (fromS - oracleS < 4) return;
  const leadS = toldS === null ? 0 : fromS - toldS;
  tally.leadShares.push(Math.min(1, leadS / (fromS - oracleS)));
}

/** The overshoot alarm itself foretells nothing, even where noise raises it a moment before the crossing. */
function foretellsOvershoot(event: RunEvent): boolean {
  if (event.kind === 'cue') return event.cue === 'off-heat';
  return event.kind === 'alarm-raised' && event.alarm === 'overshoot-ahead';
}

function judgeWarnings(kitchen: Case, watched: Watched, truth: Truth, tally: Tally): void {
  for (const { atMs, limitC } of raised(watched, 'overshoot-ahead')) {
    const atS = atMs / 1000;
    if (limitC === null) continue;
    const comesToC = Math.max(truth.unchangedHighestC(atS, COMES_WITHIN_S), truth.highestC(atS, atS + COMES_WITHIN_S));
    if (comesToC >= limitC - COMES_NEAR_C) continue;
    tally.aheadFalse += 1;
    note(
      tally,
      kitchen,
      atS,
      `overshoot-ahead at ${truth.atC(atS).toFixed(2)}, ${comesToC.toFixed(2)} is all that comes`,
    );
  }
}

function judgeOffHeat(kitchen: Case, watched: Watched, truth: Truth, tally: Tally): void {
  const cues = watched.events.filter(
    (event): event is RunEvent & Cue => event.kind === 'cue' && event.cue === 'off-heat',
  );
  for (const cue of cues) {
    const phase = kitchen.profile.phases[phaseIndex(kitchen.profile, cue.phase)];
    if (phase === undefined) continue;
    tally.offHeats += 1;
    const said = cue.atMs / 1000;
    const inS = cue.inS ?? 0;
    const then = truth.changedBetween(said, said + inS)
      ? later(truth.kitchenAt(said), Math.max(TICK_S, inS))
      : truth.kitchenAt(said + inS);
    const landsC = coastsToC(then, 'up');
    const latestLandsC = coastsToC(later(then, EARLY_S), 'up');
    if (landsC <= phase.bandC[1] && latestLandsC >= phase.bandC[0]) tally.offHeatsInBand += 1;
    else {
      const lands = `${landsC.toFixed(2)}…${latestLandsC.toFixed(2)}, band ${phase.bandC.join('–')}`;
      note(tally, kitchen, said, `off-heat in ${inS} s lands at ${lands} (${cue.phase}, ${then.around.kind})`);
    }
  }
}

function judgeUndershoots(kitchen: Case, watched: Watched, truth: Truth, tally: Tally): void {
  const spans = spansOf(watched, 'undershoot');
  for (const excursion of truth.excursions((tick) => truth.floorAt(tick), -1, WORTH_TELLING_C)) {
    if (excursion.extremeC > excursion.limitC - WORTH_TELLING_C) continue;
    tally.undershoots += 1;
    if (spans.some((span) => span.toS > excursion.fromS && span.fromS < excursion.toS + 30)) continue;
    tally.undershootsMissed += 1;
    note(tally, kitchen, excursion.fromS, `undershoot to ${excursion.extremeC.toFixed(2)} missed`);
  }
}

function judgeLosses(kitchen: Case, watched: Watched, truth: Truth, tally: Tally): void {
  const alarms = raised(watched, 'temper-lost');
  const surely = truth.excursions((tick) => truth.lostAt(tick, LOST_MARGIN_C), 1, 0);
  for (const { fromS, toS } of surely) {
    if (toS - fromS < LOST_FOR_S) continue;
    tally.lost += 1;
    // The alarm stays on once temper is lost, so one before this stretch has told it too.
    if (alarms.some(({ atMs }) => atMs / 1000 <= toS + 30)) tally.lostTold += 1;
    else note(tally, kitchen, fromS, 'temper lost, not told');
  }
  for (const { atMs } of alarms) {
    if (truth.nearlyLostBy(atMs / 1000 + 30)) continue;
    tally.lostFalse += 1;
    note(tally, kitchen, atMs / 1000, 'temper told lost, it never came near that');
  }
}

function judgeUnderCooling(kitchen: Case, watched: Watched, truth: Truth, tally: Tally): void {
  const alarms = raised(watched, 'not-cooled-enough');
  if (kitchen.handling === 'under-cools') {
    tally.underCooled += 1;
    if (alarms.length > 0) tally.underCooledTold += 1;
    else note(tally, kitchen, 0, 'not cooled enough, not told');
    return;
  }
  for (const { atMs } of alarms) {
    // With the seed gone it is to be cooled again, and whoever does not is told so rightly.
    if (truth.nearlyLostBy(atMs / 1000)) continue;
    tally.underCooledFalse += 1;
    note(tally, kitchen, atMs / 1000, 'told not cooled enough, it was');
  }
}

function judgeEstimates(kitchen: Case, watched: Watched, truth: Truth, tally: Tally): void {
  const arrivals = new Arrivals(kitchen, truth);
  for (const [index, estimate] of watched.estimates.entries()) {
    const atS = index * ASK_S;
    if (estimate === null || atS >= kitchen.hours * 3600) continue;
    tally.tempErrorsC.push(Math.abs(estimate.tempC - truth.atC(atS)));
    const leftS = estimate.phase === null ? null : arrivals.leftS(estimate.phase, atS);
    if (leftS === null) continue;
    tally.etaAsked += 1;
    if (estimate.etaS === null || estimate.etaS === 0) {
      tally.etaErrors.push(1);
      continue;
    }
    tally.etaAnswered += 1;
    const error = Math.abs(estimate.etaS - leftS) / leftS;
    tally.etaErrors.push(error);
    tally.etaErrorsGiven.push(error);
    const low = estimate.etaLowS ?? estimate.etaS;
    if (low <= leftS && leftS <= (estimate.etaHighS ?? Infinity)) tally.etaInside += 1;
  }
}

/** Even in good hands a probe may be gone for long, and a big top-up leaves the bowl really too cool for a while. */
function isDeserved(kitchen: Case, alarm: Raised['alarm'], atS: number, truth: Truth): boolean {
  if (alarm === 'probe-silent') return mishapAt(kitchen, atS, 5, 'gap') !== undefined;
  if (alarm === 'probe-lifted') return mishapAt(kitchen, atS - 60, 5, 'lifted') !== undefined;
  const floorC = kitchen.profile.phases.at(-1)?.floorC;
  return alarm === 'below-working' && floorC !== undefined && truth.atC(atS) < floorC;
}

const GOOD_HANDS: readonly Case['handling'][] = ['well', 'cycles', 'grazes'];

function judgeCalm(kitchen: Case, watched: Watched, truth: Truth, tally: Tally): void {
  if (!GOOD_HANDS.includes(kitchen.handling)) return;
  tally.wellHandled += 1;
  for (const event of watched.events) {
    if (event.kind !== 'alarm-raised') continue;
    const atS = event.atMs / 1000;
    if (isDeserved(kitchen, event.alarm, atS, truth)) continue;
    tally.alarmsWellHandled[event.alarm] = (tally.alarmsWellHandled[event.alarm] ?? 0) + 1;
    note(tally, kitchen, atS, `well handled, yet ${event.alarm} in ${event.phase} at ${truth.atC(atS).toFixed(2)}`);
  }
}
