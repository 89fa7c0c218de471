/**
 * The sentence at the top of the page: what to do now, and where to and when. Words go by a phase's heading and place, never by its id
 * or its coating. Pure; knows nothing of how it is shown.
 */
import type { LinkState, NowMessage } from '../../../server/core/show/wire.ts';
import type { Phase, Profile } from '../../../server/core/record/profile.ts';
import { firstDownIndex, nearEdgeC, phaseIndex } from '../../../server/core/show/course.ts';
import type { PhaseVisit, View } from '../../../server/core/show/view.ts';
import { unitSign } from '../manner.ts';
import { apart, bound, degrees, goal, inAbout, measured, SHOWN_C, span } from '../measure.ts';
import { saidTempC } from '../../said-temperature.ts';
import type { Steadied } from '../../steadied.ts';
import { leavesInS } from '../../way-form.ts';
import { phaseName } from '../names.ts';
import { troubleWords } from '../../trouble.ts';
import { alarmSaid, FIRST } from '../alarm.ts';
import { stripSentence, testLines } from '../strip-test.ts';
import { mayDip } from '../../strip-test.ts';
import type { StripTest } from '../../strip-test.ts';
import { cueWords, testWords } from './cue.ts';
import { aheadOf, atNow, isStill, wayWords } from './way.ts';
import type { Unsure } from './way.ts';

/** What is known of this moment, live or played back. */
export interface Moment extends Pick<
  NowMessage,
  'atMs' | 'reading' | 'stale' | 'probeOutSinceMs' | 'estimate' | 'fanIfLeft' | 'dwellLeftS'
> {
  /** Why what comes can't be told from the reading; null: it can. */
  readonly unsure: Unsure | null;
  /** The estimate does not know yet how fast it goes, or which way. Absent: no. */
  readonly isRateUnknown?: boolean;
  /** What the way ahead is told by, held still so that its words do not change all the time. Absent: the estimate of now. */
  readonly ahead?: Pick<Steadied, 'form' | 'estimate'>;
  /** How the thermometer stands; absent in playback. */
  readonly link?: LinkState;
  readonly lastLine?: string | null;
  readonly rejected?: NowMessage['rejected'];
}

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

/** Never throws; says something true even with nothing known. `test`: the strip that lies there; null: none. */
export function sentence(view: View, now: Moment, profile: Profile, test: StripTest | null = null): Sentence {
  const calm = phaseSentence(view, now, profile);
  if (view.ended !== null) return plain('The run is over.', 'It is all kept, with its notes.');
  const raised = view.alarms.find((alarm) => !alarm.acknowledged) ?? view.alarms[0];
  if (raised !== undefined) {
    const words = alarmSaid(raised, now, view, profile);
    const said = raised.acknowledged ? words.seen : words;
    const { area, arm } = raised.acknowledged ? calm : FIRST[raised.alarm];
    return { ...plain(said.act, said.detail, calm.later), area, arm: area === 'band' ? arm : null };
  }
  if (now.probeOutSinceMs !== null) {
    const outS = (now.atMs - now.probeOutSinceMs) / 1000;
    return plain('Put the probe back.', `Out of the bowl for ${span(outS)}. Still recording.`, calm.later);
  }
  if (now.stale) return staleSentence(view, now, calm.later);
  const isAnswered = view.cue?.cue === 'strip-test' && test !== null;
  const cued = view.cue === null || isAnswered ? null : cueWords(view.cue, now, profile);
  const looked = test === null || cued?.area === 'band' ? null : stripSentence(test, now.atMs, mayDip(view));
  return { ...calm, ...cued, ...looked };
}

function plain(act: string, detail: string, later: readonly string[] = []): Sentence {
  return { act, detail, later, area: 'words', arm: null, leftS: null };
}

function staleSentence({ link }: View, now: Moment, later: readonly string[]): Sentence {
  const asks = now.link && { lastLine: null, rejected: {}, ...now, link: now.link };
  const asked = (asks && troubleWords()?.linkSentence(asks)) ?? null;
  if (link !== null && !link.up && link.why !== null) return plain('No thermometer.', asked?.detail ?? link.why, later);
  if (now.reading === null && asked !== null) return plain(asked.act, asked.detail, later);
  if (now.reading === null) return plain('Put the probe in.', 'In the middle, off the wall. Nothing read yet.', later);
  const agoS = (now.atMs - now.reading.atMs) / 1000;
  if (agoS < 10) return plain('Reading is late.', `Was ${degrees(now.reading.valueC)}, ${span(agoS)} ago.`, later);
  return plain(`No reading for ${span(agoS)}.`, 'Watch the bowl by eye. Check the plug.', later);
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
      return { ...workSentence(phase, view, now), later: testLines(view, now.atMs) };
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
  const value = now.reading === null || now.stale ? '' : ` ${measured(now.reading.valueC)} now.`;
  return plain('Put the probe in.', `In the middle, off the wall.${value}`);
}

function meltSentence(phase: Phase, visit: PhaseVisit | undefined, now: Moment, later: readonly string[]): Sentence {
  if (isReached(visit, now)) {
    return plain('No lumps? Cool it.', `${atNow(now)} ${unitSign()}${heldWords(visit, now)}`, later);
  }
  if (isStill(now)) return plain('Keep melting.', `${atNow(now)} and standing still: lumps are still melting.`, later);
  return plain('Melt it all.', `${wayWords(phase, now)} Stir now and then.`, later);
}

function coolSentence(phase: Phase, visit: PhaseVisit | undefined, now: Moment, later: readonly string[]): Sentence {
  if (isReached(visit, now)) {
    const left = now.dwellLeftS;
    const more = left !== null && left > 0 ? `${span(left)} more for the seed.` : 'The seed is forming.';
    return plain('Stir, and hold it there.', `${atNow(now)} ${unitSign()}. ${more}`, later);
  }
  return plain('Keep stirring.', wayWords(phase, now), later);
}

function rewarmSentence(phase: Phase, visit: PhaseVisit | undefined, now: Moment, later: readonly string[]): Sentence {
  if (isReached(visit, now)) return { ...plain('', '', later), ...testWords(now) };
  return plain('Warm it gently.', wayWords(phase, now), later);
}

function workSentence(phase: Phase, view: View, now: Moment): Sentence {
  const visit = view.visits.at(-1);
  const dips = mayDip(view);
  const tempC = now.estimate?.tempC ?? null;
  const saidC = saidTempC(now);
  const [lowC, highC] = phase.bandC;
  const act = dips ? 'Dip.' : 'Strip test before you dip.';
  if (tempC === null || saidC === null) return plain(act, `Keep it between ${bound(lowC)} and ${goal(highC)}.`);
  if (tempC < lowC) {
    return plain('Warm it gently.', `${byWords(lowC - saidC)} under the band, for seconds at a time.`);
  }
  if (tempC > highC) return plain('Off the heat, and stir.', `${byWords(saidC - highC)} over the band.`);
  if (now.unsure !== null) return plain(act, `${degrees(saidC)} at the tip. ${OF_THE_TIP[now.unsure]}`);
  const first = troubleWords()?.beforeDipWords(view, phase, now) ?? null;
  if (first !== null) return plain(first.act, first.detail);
  const ahead = aheadOf(phase, now);
  const leavesS = ahead?.form === 'leaving' ? leavesInS(phase, ahead.estimate) : null;
  if (leavesS !== null) return plain(dips ? 'Dip. Warm it soon.' : act, `Under the band ${inAbout(leavesS)}.`);
  if (!dips) return plain(act, `${degrees(saidC)}, ${roomWords(phase, saidC)}.`);
  const heldS = visit === undefined ? 0 : (now.atMs - visit.enteredAtMs) / 1000;
  return plain(act, `Holding for ${span(heldS)}, ${roomWords(phase, saidC)}.`);
}

/** What would make the number of the whole bowl out of that of the tip. */
const OF_THE_TIP: Readonly<Record<Unsure, string>> = {
  unstirred: 'Stir, to know the bowl.',
  'at-the-wall': 'Hold it in the middle.',
  'just-back': 'The bowl in a moment.',
};

/** How far out of the band, where the bowl surely is out of it: the number on the page may be a little behind. */
function byWords(byC: number): string {
  return byC < SHOWN_C ? 'Just' : apart(byC);
}

function roomWords({ ceilingC, bandC }: Phase, tempC: number): string {
  const [topC, top] = ceilingC === undefined ? [bandC[1], 'the top of the band'] : [ceilingC, 'the ceiling'];
  return topC - tempC < SHOWN_C ? `at ${top}` : `${apart(topC - tempC)} under ${top}`;
}

function isReached(visit: PhaseVisit | undefined, now: Moment): boolean {
  return (visit !== undefined && visit.reachedAtMs !== null) || now.dwellLeftS !== null;
}

/** So long in the band is worth a figure, s (ours: before that it has only just come). */
const WORTH_SAYING_S = 30;

function heldWords(visit: PhaseVisit | undefined, now: Moment): string {
  const heldS = visit === undefined || visit.reachedAtMs === null ? 0 : (now.atMs - visit.reachedAtMs) / 1000;
  return heldS < WORTH_SAYING_S ? ', in the band.' : `, in the band for ${span(heldS)}.`;
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
