/** What an alarm says in full: what to do, by how much against which limit, for how long; and after it has been seen, the way back. Pure. */
import type { AlarmName, Standing, StandingReason } from '../../../server/core/record/event.ts';
import type { Profile } from '../../../server/core/record/profile.ts';
import { onLostIndex } from '../../../server/core/show/profile-limits.ts';
import type { ActiveAlarm, PastAlarm, View } from '../../../server/core/show/view.ts';
import type { Moment } from './sentence.ts';
import { saidTempC } from '../../said-temperature.ts';
import { apart, bound, degrees, inAbout, SHOWN_C, span } from '../measure.ts';
import { lasted } from '../lasted.ts';
import { STEADY_C_PER_MIN } from '../../way-form.ts';
import { causeAndAct } from '../link.ts';
import { FIRST, nameWithLimit, raisedName } from '../alarm.ts';

export interface AlarmWords {
  readonly act: string;
  readonly detail: string;
  /** What to do next, for the page an alarm has to itself. */
  readonly next: string;
  /** The pair that stands at the top once somebody has seen it. */
  readonly seen: { readonly act: string; readonly detail: string };
}

/** How the temper stands and where the profile begins again: what the way back depends on. */
export interface Way {
  readonly standing: Standing | null;
  readonly why: StandingReason | null;
  /** After temper is lost it goes on with cooling again, not with the melt. */
  readonly coolsAgain: boolean;
}

export function wayOf({ standing }: Pick<View, 'standing'>, profile: Profile): Way {
  const coolsAgain = profile.phases[onLostIndex(profile)]?.heading === 'down';
  return { standing: standing?.standing ?? null, why: standing?.why ?? null, coolsAgain };
}

const USUAL_WAY: Way = { standing: null, why: null, coolsAgain: true };

/** Figures are of now where there is an estimate, else of the moment it was raised. */
export function alarmSentence(alarm: ActiveAlarm, now: Moment, way: Way = USUAL_WAY): AlarmWords {
  const tempC = saidTempC(now) ?? alarm.valueC;
  const forS = (now.atMs - alarm.raisedAtMs) / 1000;
  const by = beyond(tempC, alarm.limitC);
  const { act } = FIRST[alarm.alarm];
  switch (alarm.alarm) {
    case 'overshoot':
      return {
        act,
        detail: `${by('over')} ceiling${forWords(forS)}.`,
        ...overBack(backWords(now, alarm.limitC, 'under'), way),
      };
    case 'temper-lost':
      return {
        act,
        detail: `${by('over')} limit of temper${forWords(forS)}.`,
        next: way.coolsAgain
          ? 'Cool it again with fresh seed. With lumps in it, melt it first.'
          : 'Melt it all again, then cool it.',
        seen: beginAgain(way),
      };
    case 'scorch':
      return {
        act,
        detail: `${by('over')} scorch ceiling${forWords(forS)}.`,
        next: 'Lift the bowl off, steam away from you. Smell and taste before going on.',
        seen: { act: 'Stir it down.', detail: backWords(now, alarm.limitC, 'under') },
      };
    case 'scorch-ahead':
      return ahead(alarm, now, 'Over', 'scorch ceiling', 'Stir hard; the bowl carries on.');
    case 'overshoot-ahead':
      return ahead(alarm, now, 'Over', 'ceiling', 'Stir; the bowl and the bath carry on.');
    case 'undershoot-ahead':
      return ahead(alarm, now, 'Under', 'floor', 'Dry the bowl and stir.');
    case 'undershoot':
      return {
        act,
        detail: `${by('under')} floor${forWords(forS)}. It will thicken.`,
        next: 'Out of the cold, and stir.',
        seen: { act: 'Warm it gently.', detail: backWords(now, alarm.limitC, 'over') },
      };
    case 'not-cooled-enough':
      return {
        act,
        detail: turnedWords(alarm),
        next: 'Back on the cold, stirring.',
        seen: { act: 'Cool it again.', detail: `Down to ${limit(alarm.limitC)}, stirring.` },
      };
    case 'below-working': {
      const words = { act, detail: `${by('under')} floor${forWords(forS)}.` };
      return { ...words, next: 'To the upper half of the band, and stir.', seen: words };
    }
    case 'probe-silent': {
      const sinceMs = now.reading === null ? alarm.raisedAtMs : Math.min(now.reading.atMs, alarm.raisedAtMs);
      const words = {
        act: `No reading for ${span((now.atMs - sinceMs) / 1000)}.`,
        detail: `Watch the bowl by eye. ${plugWords(now)}`,
      };
      return { ...words, next: 'The run goes on; the gap stays a gap.', seen: words };
    }
    case 'probe-lifted': {
      const outS = (now.atMs - (now.probeOutSinceMs ?? alarm.raisedAtMs)) / 1000;
      const words = { act, detail: `Out of the bowl for ${span(outS)}. Still recording.` };
      return { ...words, next: 'In the middle, off the wall.', seen: words };
    }
  }
}

/** What would give a reading again, as far as the link tells: the last that it asks for. */
function plugWords({ link }: Moment): string {
  if (link?.state !== 'looking') return 'Check the plug.';
  const { detail } = causeAndAct(link.why);
  return detail.split(/(?<=\.) (?=\p{Lu})/u).at(-1)!;
}

/** Over the ceiling, and back: what comes then, by what may be left of the seed. */
function overBack(back: string, way: Way): Pick<AlarmWords, 'next' | 'seen'> {
  switch (way.standing) {
    case 'lost':
      return { next: 'Stir it down: no seed is left in it.', seen: beginAgain(way) };
    case 'not-made-yet':
      return {
        next: 'Stir it down, then cool it again.',
        seen: { act: 'Stir it down.', detail: `${back} Then cool it again.` },
      };
    default: {
      const seen = { act: 'Stir. Don’t dip yet.', detail: `${back} Then the strip test.` };
      const isBeyond = way.standing === 'at-risk' && way.why === 'above-lost';
      const next = isBeyond
        ? 'Stir it down at once. Seed does not outlast this.'
        : 'Stir it down. No dipping until the strip test.';
      return { next, seen };
    }
  }
}

function beginAgain({ coolsAgain }: Way): AlarmWords['seen'] {
  const detail = coolsAgain
    ? 'No lumps: cool it, with fresh seed. Lumps: melt it all first.'
    : 'Melt it all, then cool it.';
  return { act: 'Begin again.', detail };
}

function ahead(alarm: ActiveAlarm, now: Moment, side: 'Over' | 'Under', what: string, next: string): AlarmWords {
  const { act } = FIRST[alarm.alarm];
  const leftS = alarm.inS === null ? null : alarm.inS - (now.atMs - alarm.raisedAtMs) / 1000;
  const when = leftS === null ? '' : ` ${inAbout(leftS)}`;
  const extremeC = now.estimate?.peakC ?? alarm.peakC;
  const reach = extremeC === null ? '' : `, ${side === 'Over' ? 'up' : 'down'} to ${degrees(extremeC)}`;
  const detail = `${side} the ${limit(alarm.limitC)} ${what}${when}${reach}.`;
  return { act, detail, next, seen: { act, detail } };
}

/** "0.3 over the 32.5"; without a value or a limit still a true half-sentence. */
function beyond(tempC: number | null, limitC: number | null): (side: 'over' | 'under') => string {
  return (side) => {
    if (tempC === null || limitC === null) return side === 'over' ? 'Over the' : 'Under the';
    const byC = side === 'over' ? tempC - limitC : limitC - tempC;
    if (byC < SHOWN_C) return `Just at the ${bound(limitC)}`;
    return `${apart(byC)} ${side} the ${bound(limitC)}`;
  };
}

function backWords(now: Moment, limitC: number | null, side: 'under' | 'over'): string {
  const { estimate } = now;
  const tempC = saidTempC(now);
  if (estimate === null || tempC === null || limitC === null) return `Not back ${side} yet.`;
  const towards = side === 'under' ? -estimate.rateCPerMin : estimate.rateCPerMin;
  const awayC = side === 'under' ? tempC - limitC : limitC - tempC;
  if (awayC <= 0) return `Back ${side} ${bound(limitC)}.`;
  if (towards < STEADY_C_PER_MIN && awayC < SHOWN_C) return `Still at ${bound(limitC)}.`;
  if (towards < STEADY_C_PER_MIN)
    return `Still ${apart(awayC)} ${side === 'under' ? 'over' : 'under'} ${bound(limitC)}.`;
  return `Back ${side} ${inAbout((awayC / towards) * 60)}.`;
}

/** The strip of an alarm for as long as it stands: what and for how long. Of the chocolate's temperature nothing is claimed that nobody read. */
export function standsStrip(alarm: ActiveAlarm, now: Moment): string {
  if (now.stale && alarm.limitC !== null) return `${raisedName(alarm)} when last read`;
  const forS = (now.atMs - alarm.raisedAtMs) / 1000;
  return `${raisedName(alarm)}${forWords(forS)}`;
}

/** " for 45 s"; nothing where it has only just come. */
function forWords(forS: number): string {
  return forS < 1 ? '' : ` for ${lasted(forS)}`;
}

/** "Was over the 32.5 ceiling for 3 min 35 s, up to 32.9." · "Past: no reading for 17 s." */
export function wasStrip(alarm: PastAlarm): string {
  return `${HAPPENINGS.has(alarm.alarm) ? 'Past:' : 'Was'} ${pastWords(alarm)}`;
}

/** Their names say what happened, not how the chocolate was. */
const HAPPENINGS: ReadonlySet<AlarmName> = new Set<AlarmName>(['temper-lost', 'probe-silent', 'probe-lifted']);

/** "over the 32.5 ceiling for 3 min 35 s, up to 32.9." */
function pastWords(alarm: PastAlarm): string {
  return `${nameWithLimit(alarm)} for ${lasted(alarm.lastedMs / 1000)}${reachWords(alarm)}.`;
}

/**
 * "over the 32.5 ceiling: the alarm stood for 3 min 35 s, up to 32.9." For where the time over the ceiling is told as well: an alarm waits a moment
 * before it comes, and goes only once the bowl is well below.
 */
export function stoodWords(alarm: PastAlarm, which: 'the' | 'the longest'): string {
  return `${nameWithLimit(alarm)}: ${which} alarm stood for ${lasted(alarm.lastedMs / 1000)}${reachWords(alarm)}.`;
}

function reachWords({ alarm, extremeC }: PastAlarm): string {
  return extremeC === null ? '' : `, ${COLD.has(alarm) ? 'down' : 'up'} to ${degrees(extremeC)}`;
}

const COLD: ReadonlySet<AlarmName> = new Set<AlarmName>([
  'undershoot',
  'undershoot-ahead',
  'not-cooled-enough',
  'below-working',
]);

/** Its value is how far down the bowl got before it turned; one under its limit left too soon. */
function turnedWords({ valueC, limitC }: ActiveAlarm): string {
  if (valueC !== null && limitC !== null && valueC <= limitC)
    return `Down to ${degrees(valueC)}, but not long enough under ${limit(limitC)} for the seed.`;
  return `It only got down to ${figure(valueC)}; the seed needs ${limit(limitC)}.`;
}

function figure(valueC: number | null): string {
  return valueC === null ? 'too warm a point' : degrees(valueC);
}

function limit(valueC: number | null): string {
  return valueC === null ? 'limit' : bound(valueC);
}

/** What warned of it, and goes only a while after it has come. */
const WARNED_OF: Partial<Readonly<Record<AlarmName, AlarmName>>> = {
  scorch: 'scorch-ahead',
  overshoot: 'overshoot-ahead',
  undershoot: 'undershoot-ahead',
};

/** What else stands, for the line under a worse alarm; not that it is heading to where it is. */
export function alsoWords(view: View): string | null {
  const first = view.alarms.find((alarm) => !alarm.acknowledged) ?? view.alarms[0];
  const come = new Set(view.alarms.map(({ alarm }) => WARNED_OF[alarm]));
  const other = view.alarms.find((alarm) => alarm !== first && !come.has(alarm.alarm));
  return other === undefined ? null : `Also ${nameWithLimit(other)}.`;
}
