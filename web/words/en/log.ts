/** A run's log read out: one line for each event a person would ask about, and one sentence for the whole run. Pure. */
import type { RunEvent } from '../../../server/core/record/event.ts';
import type { Account } from '../../../server/core/show/account.ts';
import type { PastAlarm, View } from '../../../server/core/show/view.ts';
import { URGENCY } from '../../../server/core/show/view.ts';
import { unitSign } from '../manner.ts';
import { apart, degrees, span } from '../measure.ts';
import { whole } from '../whole.ts';
import { lasted } from '../lasted.ts';
import { ACT_NAME, ALARM_NAME, phaseName, STANDING_NAME } from '../names.ts';
import { CUE_NAME, REJECT_NAME, STANDING_WHY, STIR_NAME } from '../log-names.ts';
import { stoodWords } from '../alarm-words.ts';
import { standingName } from './standing.ts';

export interface LogLine {
  readonly id: string;
  readonly atMs: number;
  /** Where it is about a span: the moment that ends it. */
  readonly untilMs?: number;
  readonly text: string;
  /** Whose words: the tool's, or a person's own. */
  readonly voice: 'tool' | 'person';
  readonly weight: 'plain' | 'alarm' | 'phase';
}

/** Null for events that say nothing to a reader. */
export function logLine(event: RunEvent): LogLine | null {
  const said = saidOf(event);
  if (said === null) return null;
  const weight = event.kind === 'alarm-raised' ? 'alarm' : event.kind === 'phase-entered' ? 'phase' : 'plain';
  return {
    id: `event-${event.seq}`,
    atMs: event.atMs,
    text: said,
    voice: event.kind === 'act' ? 'person' : 'tool',
    weight,
  };
}

const ENTERED_BY = { reached: '', hand: ', by hand', recovery: ', to begin again' } as const;

function saidOf(event: RunEvent): string | null {
  switch (event.kind) {
    case 'run-started':
      return 'The run began.';
    case 'phase-entered':
      // The run itself began in its first, by a tap or by itself.
      return `${phaseName(event.phase)}${event.from === null ? '' : ENTERED_BY[event.by]}.`;
    case 'band-reached':
      return `In the band at ${degrees(event.valueC)}.`;
    case 'alarm-raised':
      return `Alarm, ${ALARM_NAME[event.alarm]}${raisedAt(event)}.`;
    case 'alarm-cleared':
      return `Past: ${ALARM_NAME[event.alarm]} for ${lasted(event.lastedMs / 1000)}${extremeWords(event.extremeC)}.`;
    case 'alarm-acknowledged':
      return `Seen${event.by === undefined ? '' : ` by ${event.by}`}: ${ALARM_NAME[event.alarm]}.`;
    case 'alarm-quietened':
      return `Quiet for 2 min: ${ALARM_NAME[event.alarm]}.`;
    case 'cue':
      return `Said: ${CUE_NAME[event.cue]}${whenWords(event.inS)}${cueReason(event)}.`;
    case 'standing':
      return `${STANDING_NAME[event.standing]}: ${STANDING_WHY[event.why]}.`;
    case 'act':
      return ACT_NAME[event.act];
    case 'link':
      return `${event.source === undefined ? 'Thermometer' : 'Thermometer beside the bowl'} ${event.up ? 'connected' : 'away'}.`;
    case 'probe':
      return event.state === 'out' ? 'Probe out of the bowl.' : 'Probe back in the bowl.';
    case 'rejected':
      return `Not used: ${REJECT_NAME[event.reason]}, ${event.count} so far.`;
    case 'run-ended':
      return 'The run ended.';
    case 'correction-changed':
      return `Correction of ${event.channel === undefined ? 'the probe' : `channel ${event.channel}`}: ${apart(event.offsetC)}.`;
    case 'role-changed':
      return `${event.channel === '' ? 'The thermometer' : `Channel ${event.channel}`}${event.source === undefined ? '' : ' beside the bowl'} is ${event.role} now.`;
    default:
      return null;
  }
}

/** Of one that turned too soon the value is how far down it got. */
function raisedAt({ alarm, valueC }: Extract<RunEvent, { kind: 'alarm-raised' }>): string {
  if (valueC === null) return '';
  return `${alarm === 'not-cooled-enough' ? ', down to' : ' at'} ${degrees(valueC)}`;
}

/** Only leaving heat or cold has a moment of its own. */
function whenWords(inS: number | undefined): string {
  if (inS === undefined) return '';
  return inS === 0 ? ' now' : ` in ${span(inS)}`;
}

function cueReason({ landsC, bathC, why }: Extract<RunEvent, { kind: 'cue' }>): string {
  const where = landsC === undefined ? '' : `, it would end at ${degrees(landsC)}`;
  const bath = bathC === undefined ? '' : `; ${whole(bathC)} ${unitSign()} around the bowl would do`;
  return `${where}${bath}${why === undefined ? '' : `, ${STIR_NAME[why]}`}`;
}

function extremeWords(extremeC: number | null): string {
  return extremeC === null ? '' : `, furthest at ${degrees(extremeC)}`;
}

/** The whole run in an act line and a detail line: what went well, and the worst that happened. */
export function lookBack(view: View, account: Account): { readonly act: string; readonly detail: string } {
  const worst = worstOf(view.pastAlarms);
  if (worst === null) {
    const standing = view.standing?.standing ?? null;
    const stood =
      standing === null ? 'The strip test and tomorrow decide.' : `${standingName(standing, view.ended !== null)}.`;
    return { act: calmWords(view, account), detail: `${stood}${unseenWords(account)}` };
  }
  const times = view.pastAlarms.filter((alarm) => alarm.alarm === worst.alarm).length;
  const which = times === 1 ? 'the' : 'the longest';
  const count = times === 1 ? 'once' : times === 2 ? 'twice' : `${times} times`;
  return { act: `${capital(ALARM_NAME[worst.alarm])}, ${count}.`, detail: capital(stoodWords(worst, which)) };
}

/** Without an alarm: nothing is claimed of bounds that it never came to, or that nobody saw it keep. */
function calmWords({ ended }: View, { stays, workReadS, inWorkBandS }: Account): string {
  if (stays.every(({ highestC }) => highestC === null)) return 'Nothing was read.';
  if (!stays.some(({ heading }) => heading === 'hold'))
    return ended === null ? 'Not at work yet.' : 'It never came to the work.';
  return workReadS > 0 && inWorkBandS === 0 ? 'Never in the band.' : 'Never over, never under.';
}

/** So much that nothing was read is worth saying, s (ours: the claim above it is not of all of the run). */
const UNSEEN_WORTH_S = 30;

function unseenWords({ unseenS }: Account): string {
  return unseenS < UNSEEN_WORTH_S ? '' : ` Nothing was read for ${lasted(unseenS)}.`;
}

function worstOf(alarms: readonly PastAlarm[]): PastAlarm | null {
  const sorted = alarms.toSorted((a, b) => URGENCY[a.alarm] - URGENCY[b.alarm] || b.lastedMs - a.lastedMs);
  return sorted[0] ?? null;
}

function capital(text: string): string {
  return text === '' ? text : text[0]!.toUpperCase() + text.slice(1);
}
