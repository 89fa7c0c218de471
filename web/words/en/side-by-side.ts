/** Two logs of one trace beside each other: rows with what each says, the differences in plain words, one sentence for all. Pure. */
import type { Stay } from '../../../server/core/show/account.ts';
import type { PastAlarm } from '../../../server/core/show/view.ts';
import type { Judgement } from '../../../server/core/record/judgement.ts';
import type { Side } from '../../side-by-side.ts';
import { apart, clock, degrees } from '../measure.ts';
import { lasted } from '../lasted.ts';
import { ALARM_NAME, phaseName } from '../names.ts';
import { CUE_NAME } from '../log-names.ts';
import { standingAtEnd } from './standing.ts';
import { day } from '../day.ts';

/** Moments closer than this count as one, ms (ours: what nobody would call earlier or later). */
const SAME_MS = 1_500;

/** Estimates closer than this say the same figure, °C. */
const SAME_C = 0.05;

export interface ComparedRow {
  readonly name: string;
  /** One line each. */
  readonly first: readonly string[];
  readonly second: readonly string[];
  readonly differs: boolean;
}

export const JUDGED = {
  fetching: 'Fetching both logs.',
  notHere: 'This run isn’t here.',
  fetchingList: 'Fetching its second logs.',
  noList: 'Its second logs aren’t here.',
  fetchingLog: 'Fetching this log.',
  noLog: 'This log isn’t here.',
  none: 'Judge it again.',
  noneDetail: 'The first log stays as it is. A second one is laid beside it.',
  going: (profile: string) => `Judging it by ${profile}.`,
  share: (share: number) => `${Math.round(share * 100)} % of the trace.`,
  progress: 'How much of the trace is judged',
  breakOff: 'Break it off',
  other: 'Another run is being judged. This one can be when that is done.',
  failed: (why: string) => `It came to nothing: ${why}.`,
  byToday: 'By today’s engine',
  by: (title: string) => `As ${title}`,
  wish: 'Judge it again',
  logs: 'Second logs',
  log: (title: string, wall: string) => `${title}, ${day(wall)} ${clock(wall, 0, 0)}`,
  what: 'What',
  first: 'First log',
  second: 'Second log',
  beside: 'Side by side',
  apart: 'Differences',
  noDifference: 'None worth a word.',
  pressed: 'What a person pressed then counts in both: acts, next, back, the end.',
  curves: 'Both estimates',
  solid: 'Solid: first log.',
  dashed: 'Dashed: second log.',
  lane: (title: string, band: string) => `The lane is the working band of ${title}, ${band}.`,
  furthest: (byC: number, at: string) =>
    byC < SAME_C ? 'They lie on each other.' : `At most ${apart(byC)} apart, at ${at}.`,
  drawn: (byC: number | null) =>
    byC === null ? 'Two curves.' : `Two curves of what the chocolate was, at most ${apart(byC)} degrees apart.`,
  away: 'Take this log away',
  toRun: 'To the run',
} as const;

/** One sentence for the whole: what the second log is, and whether it says something else. */
export function comparedSentence(
  first: Side,
  second: Side,
  { isOwnProfile, differsFromSeq }: Judgement,
): { readonly act: string; readonly detail: string } {
  const found = differences(first, second).length;
  const count = found === 1 ? 'One difference' : `${found} differences`;
  if (!isOwnProfile) {
    return {
      act: `As ${second.info.profile.title}.`,
      detail: found === 0 ? 'It says the same.' : `${count} from the first log.`,
    };
  }
  const isSameEngine = first.engine === second.engine;
  if (differsFromSeq === null) {
    return {
      act: 'The same log.',
      detail: isSameEngine
        ? 'As it should be: same engine, same numbers.'
        : 'Today’s engine says the same, word for word.',
    };
  }
  if (isSameEngine)
    return {
      act: 'Not the same log.',
      detail: `Same engine, same numbers: they should not part at event ${differsFromSeq}.`,
    };
  const engines = `engine ${first.engine} then, ${second.engine} today`;
  return { act: found === 0 ? 'Nearly the same log.' : `${count}.`, detail: `Same numbers; ${engines}.` };
}

/** Where engine and numbers are the same and the logs are not: what can be said of the cause. Empty: nothing to explain. */
export function whyNotTheSame(
  first: Side,
  { isOwnProfile, differsFromSeq, hasLostInputs, header }: Judgement,
): readonly string[] {
  if (hasLostInputs) return ['Some readings of this run never got to the disk. The second log knows nothing of them.'];
  if (!isOwnProfile || differsFromSeq === null || first.engine !== header.engine) return [];
  return [
    'It can come of another kind of processor, or another version of Node, than the run was recorded with.',
    'If it was this very machine and program, something is wrong with Bowlside, not with your bowl. The first log is what you were told.',
  ];
}

export function comparedRows(first: Side, second: Side): readonly ComparedRow[] {
  const row = (name: string, told: (side: Side) => readonly string[]): ComparedRow => {
    const [a, b] = [told(first), told(second)];
    return { name, first: a, second: b, differs: a.join('\n') !== b.join('\n') };
  };
  const phases = [...new Set([first, second].flatMap(({ account }) => account.stays.map(({ phase }) => phase)))];
  return [
    row('Engine', ({ engine, info }) => [`${engine}, ${info.profile.title}`]),
    ...phases.map((phase) =>
      row(phaseName(phase), (side) =>
        orNone(
          staysIn(side, phase).map((stay) => stayWords(side, stay)),
          'not entered',
        ),
      ),
    ),
    row('Alarms', (side) =>
      orNone(
        side.alarms.map((alarm) => alarmWords(side, alarm)),
        'none',
      ),
    ),
    row('Temper at the end', ({ view }) => [standingAtEnd(view.standing?.standing ?? null)]),
    row('Furthest over', ({ account }) => [
      account.overByC > 0 ? `${apart(account.overByC)} over the working ceiling` : 'never over',
    ]),
  ];
}

/** What the second log says otherwise, in plain words, the weightiest first. */
export function differences(first: Side, second: Side): readonly string[] {
  return [
    ...standingDifference(first, second),
    ...alarmDifferences(first, second),
    ...phaseDifferences(first, second),
    ...overDifference(first, second),
    ...cueDifferences(first, second),
  ];
}

function standingDifference(first: Side, second: Side): string[] {
  const [a, b] = [first, second].map(({ view }) => view.standing?.standing ?? null);
  if (a === b) return [];
  return [
    `Temper at the end: “${standingAtEnd(a ?? null)}” in the first log, “${standingAtEnd(b ?? null)}” in the second.`,
  ];
}

/** Alarms of one name are taken in the order they were raised. */
function alarmDifferences(first: Side, second: Side): string[] {
  const names = [...new Set([...first.alarms, ...second.alarms].map(({ alarm }) => alarm))];
  return names.flatMap((name) => {
    const [a, b] = [first, second].map(({ alarms }) => alarms.filter(({ alarm }) => alarm === name));
    return Array.from({ length: Math.max(a!.length, b!.length) }, (_, i) => {
      const [one, other] = [a![i], b![i]];
      if (other === undefined) return `Only the first log raised: ${alarmWords(first, one!)}.`;
      if (one === undefined) return `Only the second log raised: ${alarmWords(second, other)}.`;
      const when = laterWords(one.raisedAtMs, other.raisedAtMs);
      return when === null ? null : `${capital(ALARM_NAME[name])}: ${when} in the second log.`;
    }).filter((words) => words !== null);
  });
}

function phaseDifferences(first: Side, second: Side): string[] {
  const names = [...new Set([first, second].flatMap(({ account }) => account.stays.map(({ phase }) => phase)))];
  return names.flatMap((phase) => {
    const [a, b] = [staysIn(first, phase)[0], staysIn(second, phase)[0]];
    if (b === undefined) return [`${phaseName(phase)}: only in the first log.`];
    if (a === undefined) return [`${phaseName(phase)}: only in the second log.`];
    const when = laterWords(a.enteredAtMs, b.enteredAtMs);
    return when === null ? [] : [`${phaseName(phase)}: begun ${when} in the second log.`];
  });
}

function overDifference(first: Side, second: Side): string[] {
  const [a, b] = [first, second].map(({ account }) =>
    account.overByC > 0 ? `${apart(account.overByC)} over` : 'never over',
  );
  return a === b ? [] : [`Furthest over a working ceiling: ${a} in the first log, ${b} in the second.`];
}

function cueDifferences(first: Side, second: Side): string[] {
  const times = (side: Side, cue: string): number => side.cues.filter((each) => each === cue).length;
  const names = [...new Set([...first.cues, ...second.cues])];
  return names.flatMap((cue) => {
    const [a, b] = [times(first, cue), times(second, cue)];
    return a === b
      ? []
      : [`Said “${CUE_NAME[cue]}” ${timesWords(a)} in the first log, ${timesWords(b)} in the second.`];
  });
}

function staysIn({ account }: Side, phase: string): readonly Stay[] {
  return account.stays.filter((stay) => stay.phase === phase);
}

function stayWords(side: Side, { enteredAtMs, lastedS, heading, lowestC, highestC }: Stay): string {
  const extremeC = heading === 'down' ? lowestC : highestC;
  const to =
    extremeC === null ? '' : heading === 'down' ? `, down to ${degrees(extremeC)}` : `, up to ${degrees(extremeC)}`;
  return `${clockOf(side, enteredAtMs)}, ${lasted(lastedS)}${to}`;
}

function alarmWords(side: Side, { alarm, raisedAtMs, lastedMs, extremeC }: PastAlarm): string {
  const to = extremeC === null ? '' : `, furthest at ${degrees(extremeC)}`;
  return `${clockOf(side, raisedAtMs)}, ${ALARM_NAME[alarm]}, ${lasted(lastedMs / 1000)}${to}`;
}

/** "12 s later"; null: about the same moment. */
function laterWords(firstMs: number, secondMs: number): string | null {
  const byMs = secondMs - firstMs;
  if (Math.abs(byMs) < SAME_MS) return null;
  return `${lasted(Math.abs(byMs) / 1000)} ${byMs > 0 ? 'later' : 'earlier'}`;
}

function timesWords(times: number): string {
  if (times === 0) return 'never';
  return times === 1 ? 'once' : times === 2 ? 'twice' : `${times} times`;
}

function clockOf({ info }: Side, atMs: number): string {
  return clock(info.startedAtWall, info.startedAtMs, atMs);
}

function orNone(lines: readonly string[], none: string): readonly string[] {
  return lines.length === 0 ? [none] : lines;
}

function capital(text: string): string {
  return `${text[0]!.toUpperCase()}${text.slice(1)}`;
}
