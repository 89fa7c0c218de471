/**
 * What an alarm says at once, whatever else of the page is here: what to do first, which it is, and its two answers. All the rest is said by
 * `alarm-words.ts`, which the page fetches as soon as it stands. Pure, but for whether that is here.
 */
import type { AlarmName } from '../../../server/core/record/event.ts';
import type { Profile } from '../../../server/core/record/profile.ts';
import { ringing } from '../../../server/core/show/ringing.ts';
import type { ActiveAlarm, View } from '../../../server/core/show/view.ts';
import { troubleWords } from '../../trouble.ts';
import { bound, countdown } from '../measure.ts';
import { ALARM_NAME } from '../names.ts';
import type { AlarmWords } from './alarm-words.ts';
import type { Area, Arm, Moment } from './sentence.ts';

/** What is known of an alarm by its name: how much of the page it takes while nobody has seen it, which way the bowl goes, and what to do first. */
export interface FirstWords {
  readonly area: Area;
  readonly arm: Arm;
  readonly act: string;
}

export const FIRST: Readonly<Record<AlarmName, FirstWords>> = {
  'temper-lost': { area: 'page', arm: 'left', act: 'Stop dipping.' },
  scorch: { area: 'page', arm: 'up', act: 'Off the heat. Stir hard.' },
  overshoot: { area: 'page', arm: 'up', act: 'Off the heat, and stir.' },
  'scorch-ahead': { area: 'band', arm: 'up', act: 'Off the heat now.' },
  'overshoot-ahead': { area: 'band', arm: 'up', act: 'Off the heat now.' },
  undershoot: { area: 'band', arm: 'down', act: 'Warm the bowl for 10 s.' },
  'undershoot-ahead': { area: 'band', arm: 'left', act: 'Out of the cold.' },
  'not-cooled-enough': { area: 'band', arm: 'left', act: 'Cool it again.' },
  'probe-silent': { area: 'band', arm: 'ring', act: 'Watch the bowl by eye.' },
  'probe-lifted': { area: 'band', arm: 'down', act: 'Put the probe back.' },
  'below-working': { area: 'words', arm: 'down', act: 'Stop. Warm it gently.' },
};

/** How much of the page an alarm takes while nobody has seen it. */
export function areaOf({ alarm }: Pick<ActiveAlarm, 'alarm'>): Area {
  return FIRST[alarm].area;
}

/** In full where those words are here; until then what to do first, and which alarm it is. */
export function alarmSaid(alarm: ActiveAlarm, now: Moment, view: View, profile: Profile): AlarmWords {
  const words = troubleWords();
  if (words !== null) return words.alarmSentence(alarm, now, words.wayOf(view, profile));
  const { act } = FIRST[alarm.alarm];
  const detail = `${raisedName(alarm)}.`;
  return { act, detail, next: '', seen: { act, detail } };
}

/** Over the 32.5 ceiling · No reading */
export function raisedName(alarm: ActiveAlarm): string {
  return capital(nameWithLimit(alarm));
}

/** An alarm that makes no sound here says so on its largest button. */
export function seenWord(isSilent: boolean): string {
  return isSilent ? 'Seen (muted)' : 'Seen';
}

/** How long until something quietened sounds again, ms; null: nothing is quiet, or something sounds. */
export function quietLeftMs(alarms: readonly ActiveAlarm[], atMs: number): number | null {
  if (ringing(alarms, atMs).length > 0) return null;
  const until = alarms.filter((alarm) => !alarm.acknowledged).flatMap(({ quietUntilMs }) => quietUntilMs ?? []);
  const left = until.map((untilMs) => untilMs - atMs).filter((leftMs) => leftMs > 0);
  return left.length === 0 ? null : Math.min(...left);
}

/** Quiet for 2 min · Quiet, 1:47 */
export function quietWords(leftMs: number | null): string {
  return leftMs === null ? 'Quiet for 2 min' : `Quiet, ${countdown(leftMs / 1000)}`;
}

/** over the 32.5 ceiling · under the 26 floor · temper lost */
export function nameWithLimit({ alarm, limitC }: Pick<ActiveAlarm, 'alarm' | 'limitC'>): string {
  return limitC === null ? ALARM_NAME[alarm] : ALARM_NAME[alarm].replace(' the ', ` the ${bound(limitC)} `);
}

function capital(text: string): string {
  return text === '' ? text : text[0]!.toUpperCase() + text.slice(1);
}
