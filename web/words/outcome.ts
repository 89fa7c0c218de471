/** What is said from the end of the work to the verdict: setting, resting, judging, what may have gone wrong. */
import type { Outcome, SettingPlace, Verdict } from '../../server/core/record/card.ts';
import type { SeenField, ChoiceField } from '../outcome.ts';
import { inLanguage } from './language.ts';

type Choices<Field extends ChoiceField> = Readonly<Record<NonNullable<Outcome[Field]>, string>>;

export const SETTING = inLanguage({
  en: {
    title: 'Setting and rest',
    leave: 'Leave it to set.',
    between: (least: number, most: number) => `${least} to ${most} min`,
    howLong: (air: string, inRoom: string, room: string) =>
      `${air} in cool moving air, ${inRoom} in a room of ${room}.`,
    room: (low: string, high: string, unit: string) => `${low} to ${high} ${unit}`,
    inRoom: (room: string) => `In a room of ${room}`,
    moment: (day: string, clock: string) => `${day}, ${clock}`,
    timer: 'Set a timer',
    otherTimer: 'Another timer',
    offTimer: 'No timer',
    minutes: (minutes: number) => `${minutes} min`,
    going: (left: string) => `Setting, ${left} left.`,
    until: (place: string, clock: string) => `${place}, until ${clock}.`,
    isSet: 'Set, by the timer.',
    rest: (when: string) => `Try one piece. Then let it rest a day, until ${when}.`,
    resting: 'Let it rest.',
    restUntil: (when: string) => `Gloss and snap go on changing for a day, until ${when}.`,
    rested: 'It has rested.',
    toJudge: 'Gloss, snap, streaks: a minute of looking.',
    judged: (verdict: string) => `Judged ${verdict}.`,
    judgeOnPage: 'Judge it',
    timesOurs:
      'How long it takes depends on the piece and the air: common practice, no source; times in a room are ours.',
    cautions: [
      'Dry air: damp on cold pieces makes sugar bloom.',
      'Apart from what smells, and from nuts and other allergens that are not in it.',
    ],
  },
});

export const PLACE_NAME = inLanguage<Readonly<Record<SettingPlace, string>>>({
  en: { 'cool-air': 'In cool moving air', room: 'In the room' },
});

export const JUDGING = inLanguage({
  en: {
    title: 'Outcome',
    early: 'Judge it now all the same',
    judge: 'Judge it',
    change: 'Change it',
    keep: 'Keep it',
    leave: 'Leave it as it was',
    wanted: 'Say how it came out, all in all.',
    unlooked: 'not looked at',
    words: 'In your own words',
    by: 'Who judged it',
    finger: 'A warm finger on the grey: fat bloom melts away under it; sugar bloom stays, rough and dry.',
    caution: 'Clean, dry fingers. Whoever tastes it knows what is in it.',
    before: 'Judged before',
    somebody: 'Somebody',
    takenBack: 'taken back',
    who: (who: string, when: string) => `${who}, ${when}`,
    found: (field: string, value: string) => `${field}: ${value}`,
    and: '; ',
  },
});

export const OUTCOME_FIELD = inLanguage<Readonly<Record<ChoiceField | SeenField, string>>>({
  en: {
    verdict: 'All in all',
    gloss: 'Gloss',
    snap: 'Snap',
    release: 'Off the mould or sheet',
    streaks: 'Streaks',
    fatBloom: 'Fat bloom',
    sugarBloom: 'Sugar bloom',
    soft: 'Soft or tacky',
  },
});

export const OUTCOME_CHOICES = inLanguage<{ readonly [Field in ChoiceField]: Choices<Field> }>({
  en: {
    verdict: { good: 'good', usable: 'usable', failed: 'failed' } satisfies Readonly<Record<Verdict, string>>,
    gloss: { glossy: 'glossy', satin: 'satin', dull: 'dull' },
    snap: { clean: 'clean', weak: 'weak', bends: 'bends' },
    release: { 'by-itself': 'by itself', 'with-help': 'with help', sticks: 'sticks' },
  },
});

export const SEEN_CHOICES = inLanguage<Readonly<Record<'no' | 'yes', string>>>({ en: { no: 'none', yes: 'seen' } });

export const WENT = inLanguage({
  en: {
    title: 'The run in words',
    broughtIn: (day: string) => `Brought in from a file on ${day}.`,
    toMoment: (line: string) => `${line} Show it on the curve.`,
    wrong: 'What went wrong?',
    usual: (source: string) =>
      `Usual causes of what was found. None is certain: the strip test and the pieces decide. Where nothing is named: ${source}.`,
    nothing: 'No fault was marked, so no cause can be named.',
  },
});
