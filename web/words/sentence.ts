/**
 * The sentence at the top of the page: what to do now, and where to and when. Words go by a phase's heading and place, never by its id
 * or its coating. Pure; knows nothing of how it is shown.
 */
import type { NowMessage } from '../../server/core/show/wire.ts';
import type { Phase, Profile } from '../../server/core/record/profile.ts';
import { firstDownIndex, nearEdgeC, phaseIndex } from '../../server/core/show/course.ts';
import type { PhaseVisit, ShownCue, View } from '../../server/core/show/view.ts';
import { arrival, bound, degrees, goal, guess, span, STEADY_C_PER_MIN } from './measure.ts';
import { phaseName } from './names.ts';
import { alarmSentence, areaOf } from './alarm.ts';

/** What is known of this moment, live or played back. */
export type Moment = Pick<NowMessage, 'atMs' | 'reading' | 'stale' | 'probeOutSinceMs' | 'estimate' | 'dwellLeftS'>;

/** Area is urgency: words on the page, a band across its top, or all of it. */
export type Area = 'words' | 'band' | 'page';
/** Off the heat points up, onto the heat down, out of the cold to the left; stirring is a ring. */
export type Arm = 'up' | 'down' | 'left' | 'ring';

export interface Sentence {
  readonly act: string;
  readonly detail: string;
  readonly later: readonly string[];
  readonly area: Area;
  readonly arm: Arm | null;
  /** Seconds until the act is due; null: nothing counts down. */
  readonly leftS: number | null;
}

/** How long after its moment an unheeded off-heat or off-cold cue keeps the band, s (the 20 s after which the alarm takes over). */
const HEED_S = 20;
/** How long the other cues stand in place of the phase's own words, s (ours; the strip test takes 3 to 5 min). */
const CUE_SHOWN_S = { stir: 60, 'will-not-reach': 90, 'strip-test': 300, 'hold-there': 60, other: 120 } as const;
/** Nearer than this to its goal a phase is "later", °C (the road's scale steps in at the same distance). */
const LATER_WITHIN_C = 6;

/** Never throws; says something true even with nothing known. */
export function sentence(view: View, now: Moment, profile: Profile): Sentence {
  const calm = phaseSentence(view, now, profile);
  if (view.ended !== null) return plain('The run is over.', 'It is all kept, with its notes.');
  const raised = view.alarms.find((alarm) => !alarm.acknowledged) ?? view.alarms[0];
  if (raised !== undefined) {
    const words = alarmSentence(raised, now);
    const area = raised.acknowledged ? 'words' : areaOf(raised);
    const said = raised.acknowledged ? words.seen : words;
    return { ...plain(said.act, said.detail, calm.later), area, arm: area === 'band' ? words.arm : null };
  }
  if (now.probeOutSinceMs !== null) {
    const outS = (now.atMs - now.probeOutSinceMs) / 1000;
    return plain('Put the probe back.', `Out of the bowl for ${span(outS)}. Still recording.`, calm.later);
  }
  if (now.stale) return staleSentence(view, now, calm.later);
  return cueSentence(view.cue, now, profile, calm) ?? calm;
}

function plain(act: string, detail: string, later: readonly string[] = []): Sentence {
  return { act, detail, later, area: 'words', arm: null, leftS: null };
}

function staleSentence({ link }: View, now: Moment, later: readonly string[]): Sentence {
  if (link !== null && !link.up && link.why !== null) return plain('No thermometer.', link.why, later);
  if (now.reading === null) return plain('Put the probe in.', 'In the middle, off the wall. Nothing read yet.', later);
  const agoS = (now.atMs - now.reading.atMs) / 1000;
  if (agoS < 10) return plain('Reading is late.', `Was ${degrees(now.reading.valueC)}, ${span(agoS)} ago.`, later);
  return plain(`No reading for ${span(agoS)}.`, 'Watch the bowl by eye. Check the plug.', later);
}

function cueSentence(cue: ShownCue | null, now: Moment, profile: Profile, calm: Sentence): Sentence | null {
  if (cue === null) return null;
  const ageS = (now.atMs - cue.atMs) / 1000;
  const phase = profile.phases.find(({ id }) => id === cue.phase);
  switch (cue.cue) {
    case 'off-heat':
    case 'off-cold': {
      const leftS = Math.max(0, (cue.inS ?? 0) - ageS);
      if (ageS > (cue.inS ?? 0) + HEED_S) return null;
      return { ...dueSentence(cue, leftS, now), later: calm.later, area: 'band' };
    }
    case 'will-not-reach': {
      if (ageS > CUE_SHOWN_S['will-not-reach'] || phase === undefined) return null;
      return plain(phase.heading === 'down' ? 'Colder water.' : 'Warmer water.', paceWords(phase, now), calm.later);
    }
    case 'strip-test':
      if (ageS > CUE_SHOWN_S['strip-test']) return null;
      return plain('Do the strip test.', `${standsAt(now)}Look after 4 min.`, calm.later);
    case 'stir':
      return ageS > CUE_SHOWN_S.stir ? null : plain('Stir, then believe it.', 'The bowl may be uneven.', calm.later);
    case 'hold-there':
      return ageS > CUE_SHOWN_S['hold-there'] ? null : { ...calm, act: 'Stir, and hold it there.' };
    case 'cool-again':
      return ageS > CUE_SHOWN_S.other ? null : plain('Cool it again.', calm.detail, calm.later);
    case 'stir-down':
      return ageS > CUE_SHOWN_S.other ? null : plain('Off the heat, and stir.', calm.detail, calm.later);
    case 'warm-gently':
      return ageS > CUE_SHOWN_S.other ? null : plain('Warm it gently.', calm.detail, calm.later);
    default:
      return null;
  }
}

function dueSentence(cue: ShownCue, leftS: number, now: Moment): Sentence {
  const isHeat = cue.cue === 'off-heat';
  const whole = Math.round(leftS);
  const when = whole > 0 ? `in ${span(whole)}.` : 'now.';
  const lands = cue.landsC ?? now.estimate?.peakC ?? null;
  const carries = isHeat ? 'It will coast to' : 'It will drift down to';
  return {
    act: `Off the ${isHeat ? 'heat' : 'cold'} ${when}`,
    detail: lands === null ? 'Bowl and bath carry on by themselves.' : `${carries} ${degrees(lands)}.`,
    later: [],
    area: 'band',
    arm: isHeat ? 'up' : 'left',
    leftS: whole > 0 ? whole : null,
  };
}

function paceWords(phase: Phase, now: Moment): string {
  const rate = now.estimate?.rateCPerMin ?? 0;
  const near = goal(nearEdgeC(phase));
  if (Math.abs(rate) < STEADY_C_PER_MIN) return `Standing still; it would never reach ${near}.`;
  return `${rate > 0 ? 'Rising' : 'Falling'} ${degrees(Math.abs(rate))} a minute; that takes too long to ${near}.`;
}

function standsAt(now: Moment): string {
  return now.estimate === null ? '' : `${degrees(now.estimate.tempC)} and still. `;
}

/** The phase's own words, whatever else is going on. */
function phaseSentence(view: View, now: Moment, profile: Profile): Sentence {
  const at = view.phase === null ? -1 : phaseIndex(profile, view.phase);
  const phase = profile.phases[at];
  if (phase === undefined) return startSentence(now);
  const later = laterLines(profile, at, now);
  const visit = view.visits.at(-1);
  switch (phaseWords(profile, at)) {
    case 'melt':
      return meltSentence(phase, visit, now, later);
    case 'cool':
      return coolSentence(phase, visit, now, later);
    case 'rewarm':
      return rewarmSentence(phase, visit, now, later);
    case 'work':
      return { ...workSentence(phase, visit, now), later: testLines(view, visit, now) };
    case 'other':
      return plain(phase.cue ?? `${phaseName(phase.id)}.`, wayWords(phase, now), later);
  }
}

/** What kind of step a phase is, by heading and place: a first melt, a cooling, a rewarming after one, a working hold, or its own. */
export type PhaseWords = 'melt' | 'cool' | 'rewarm' | 'work' | 'other';

/** A profile that never cools is no tempering curve: its phases speak with their own cues. */
export function phaseWords(profile: Profile, at: number): PhaseWords {
  const phase = profile.phases[at];
  const firstDown = firstDownIndex(profile);
  if (phase === undefined || firstDown === -1) return 'other';
  if (phase.heading === 'down') return 'cool';
  if (phase.heading === 'hold') return at > firstDown ? 'work' : 'other';
  return at < firstDown ? 'melt' : 'rewarm';
}

function startSentence(now: Moment): Sentence {
  const value = now.reading === null || now.stale ? '' : ` ${degrees(now.reading.valueC)} °C now.`;
  return plain('Put the probe in.', `In the middle, off the wall.${value}`);
}

function meltSentence(phase: Phase, visit: PhaseVisit | undefined, now: Moment, later: readonly string[]): Sentence {
  if (isReached(visit, now)) {
    return plain('No lumps? Cool it.', `${atNow(now)} °C${heldWords(visit, now)}`, later);
  }
  const rate = now.estimate?.rateCPerMin ?? null;
  const isStill = rate !== null && Math.abs(rate) < STEADY_C_PER_MIN;
  if (isStill) return plain('Keep melting.', `${atNow(now)} and standing still: lumps are still melting.`, later);
  return plain('Melt it all.', `${wayWords(phase, now)} Stir now and then.`, later);
}

function coolSentence(phase: Phase, visit: PhaseVisit | undefined, now: Moment, later: readonly string[]): Sentence {
  if (isReached(visit, now)) {
    const left = now.dwellLeftS;
    const more = left !== null && left > 0 ? `${span(left)} more for the seed.` : 'The seed is forming.';
    return plain('Stir, and hold it there.', `${atNow(now)} °C. ${more}`, later);
  }
  return plain('Keep stirring.', wayWords(phase, now), later);
}

function rewarmSentence(phase: Phase, visit: PhaseVisit | undefined, now: Moment, later: readonly string[]): Sentence {
  if (isReached(visit, now)) return plain('Do the strip test.', `${standsAt(now)}Look after 4 min.`, later);
  return plain('Warm it gently.', wayWords(phase, now), later);
}

function workSentence(phase: Phase, visit: PhaseVisit | undefined, now: Moment): Sentence {
  const tempC = now.estimate?.tempC ?? null;
  const [lowC, highC] = phase.bandC;
  if (tempC === null) return plain('Dip.', `Keep it between ${bound(lowC)} and ${goal(highC)}.`);
  if (tempC < lowC) {
    const under = degrees(lowC - tempC);
    return plain('Warm it gently.', `${under} under the band, for seconds at a time.`);
  }
  if (tempC > highC) return plain('Off the heat, and stir.', `${degrees(tempC - highC)} over the band.`);
  const rate = now.estimate?.rateCPerMin ?? 0;
  const toLowS = rate < -STEADY_C_PER_MIN ? ((tempC - lowC) / -rate) * 60 : null;
  if (toLowS !== null && toLowS < WARM_SOON_S) {
    return plain('Dip. Warm it soon.', `Under the band in about ${guess(toLowS)}.`);
  }
  const heldS = visit === undefined ? 0 : (now.atMs - visit.enteredAtMs) / 1000;
  return plain('Dip.', `Holding for ${span(heldS)}, ${roomWords(phase, tempC)}.`, []);
}

/** How often the strip test wants doing while dipping, s (the craft's "about every half hour"). */
const TEST_EVERY_S = 1_800;

/** When the strip test is due again, from the last one noted in this phase. */
function testLines(view: View, visit: PhaseVisit | undefined, now: Moment): readonly string[] {
  const test = view.marks.findLast((mark) => mark.kind === 'act' && mark.act.startsWith('strip-test'));
  if (test === undefined || visit === undefined || test.atMs < visit.enteredAtMs)
    return ['Note the strip test', 'when it is done.'];
  const sinceS = (now.atMs - test.atMs) / 1000;
  if (sinceS < TEST_EVERY_S) return [`Strip test again in ${span(TEST_EVERY_S - sinceS)}.`];
  return ['Strip test again:', `${span(sinceS)} since the last.`];
}

/** Drifting out of the band within this is said, s (ours: time to reach for the heat). */
const WARM_SOON_S = 420;

function roomWords(phase: Phase, tempC: number): string {
  if (phase.ceilingC !== undefined) return `${degrees(phase.ceilingC - tempC)} under the ceiling`;
  return `${degrees(phase.bandC[1] - tempC)} under the top of the band`;
}

/** Where to and when, or how far it still is where the time is not known. */
function wayWords(phase: Phase, now: Moment): string {
  const near = goal(nearEdgeC(phase));
  const estimate = now.estimate;
  if (estimate === null) return `To ${near}.`;
  const when = arrival(estimate.etaS, estimate.etaLowS, estimate.etaHighS);
  if (estimate.etaS === 0) return `${atNow(now)} °C, in the band.`;
  if (when !== null) return `${near} ${when}.`;
  const gapC = Math.abs(nearEdgeC(phase) - estimate.tempC);
  const isFar = gapC > LATER_WITHIN_C;
  return isFar ? `To ${near}. Time not known yet.` : `${degrees(gapC)} to go to ${near}.`;
}

function isReached(visit: PhaseVisit | undefined, now: Moment): boolean {
  return (visit !== undefined && visit.reachedAtMs !== null) || now.dwellLeftS !== null;
}

function heldWords(visit: PhaseVisit | undefined, now: Moment): string {
  if (visit === undefined || visit.reachedAtMs === null) return '.';
  return `, all of it, for ${span((now.atMs - visit.reachedAtMs) / 1000)}.`;
}

function atNow(now: Moment): string {
  const valueC = now.estimate?.tempC ?? now.reading?.valueC;
  return valueC === undefined ? 'There' : degrees(valueC);
}

/** The next two steps of the method, in the same voice. */
function laterLines(profile: Profile, at: number, now: Moment): readonly string[] {
  const lines: string[] = [];
  const here = profile.phases[at];
  if (here?.holdS !== undefined && here.holdS > 0 && now.dwellLeftS === null) {
    lines.push(`Then hold ${span(here.holdS)} at ${bound(middle(here))}.`);
  }
  profile.phases.slice(at + 1).forEach((phase, i) => lines.push(`Then ${stepWords(profile, at + 1 + i, phase)}.`));
  return lines.slice(0, 2);
}

function stepWords(profile: Profile, at: number, phase: Phase): string {
  const where = `${bound(phase.bandC[0])} to ${bound(phase.bandC[1])}`;
  switch (phaseWords(profile, at)) {
    case 'melt':
      return `melt to ${where}`;
    case 'cool':
      return `cool to ${bound(nearEdgeC(phase))}, stirring`;
    case 'rewarm':
      return `rewarm to ${bound(middle(phase))}`;
    case 'work':
      return `strip test, and dip at ${where}`;
    case 'other':
      return `${phaseName(phase.id).toLowerCase()}, ${where}`;
  }
}

function middle(phase: Phase): number {
  return (phase.bandC[0] + phase.bandC[1]) / 2;
}
