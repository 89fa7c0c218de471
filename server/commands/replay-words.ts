/** A replayed run as lines to read in a terminal, in the page's words; `--json` gives the log's own names. */
import type { Estimate } from '../core/bowl/estimate.ts';
import type { RunEvent } from '../core/record/event.ts';
import {
  ACT_NAME,
  ALARM_NAME,
  cueTold,
  enteredBy,
  REJECT_NAME,
  STANDING_NAME,
  STANDING_WHY,
  STIR_NAME,
} from '../names.ts';

/** `h:mm:ss` since the run's start, with a minus sign for what stood before it; fractions of a second are cut off. */
export function elapsed(ms: number): string {
  const seconds = Math.floor(Math.abs(ms) / 1000);
  const [minute, second] = [Math.floor(seconds / 60) % 60, seconds % 60].map((n) => String(n).padStart(2, '0'));
  return `${ms < 0 ? '-' : ''}${Math.floor(seconds / 3600)}:${minute}:${second}`;
}

/** What happened, in a few words. */
export function eventWords(event: RunEvent): string {
  switch (event.kind) {
    case 'run-started':
      return `The run begins, with the profile ${event.profile}${event.condition === null ? '' : `; the chocolate is ${event.condition}`}.`;
    case 'phase-entered':
      return `Phase ${event.phase}${event.from === null ? '' : `, after ${event.from}${enteredBy(event)}`}.`;
    case 'band-reached':
      return `In the band of ${event.phase} at ${degrees(event.valueC)}.`;
    case 'alarm-raised':
      return raisedWords(event);
    case 'alarm-cleared':
      return `Past: ${ALARM_NAME[event.alarm]} for ${elapsed(event.lastedMs)}${event.extremeC === null ? '' : `, furthest at ${degrees(event.extremeC)}`}.`;
    case 'alarm-acknowledged':
      return `Seen${event.by === undefined ? '' : ` by ${printable(event.by)}`}: ${ALARM_NAME[event.alarm]}.`;
    case 'alarm-quietened':
      return `Quiet for 2 min: ${ALARM_NAME[event.alarm]}.`;
    case 'cue':
      return cueWords(event);
    case 'standing':
      return `${STANDING_NAME[event.standing]}: ${STANDING_WHY[event.why]}.`;
    case 'act':
      return `Noted: ${ACT_NAME[event.act]}.`;
    case 'link':
      return `Thermometer${event.source === undefined ? '' : ` ${printable(event.source)}`} ${event.up ? 'connected' : 'away'}${event.why === undefined ? '' : `: ${printable(event.why)}`}.`;
    case 'probe':
      return event.state === 'out' ? 'Probe out of the bowl.' : 'Probe back in the bowl.';
    case 'rejected':
      return `Not used: ${REJECT_NAME[event.reason]}, ${event.count} so far, like ${printable(event.sample)}.`;
    case 'correction-changed':
      return `${event.channel === undefined ? 'Probe' : `Channel ${printable(event.channel)}`} corrected by ${event.offsetC} °C, times ${event.gain}.`;
    case 'role-changed':
      return `${event.channel === '' ? 'The thermometer' : `Channel ${printable(event.channel)}`}${event.source === undefined ? '' : ` of ${printable(event.source)}`} is ${event.role} now.`;
    case 'run-ended':
      return event.by === 'hand' ? 'The run is ended by hand.' : 'The run ends with its record.';
  }
}

function cueWords(event: Extract<RunEvent, { kind: 'cue' }>): string {
  const { landsC, bathC, why } = event;
  const where = landsC === undefined ? '' : `, it would end at ${degrees(landsC)}`;
  const bath = bathC === undefined ? '' : `; ${Math.round(bathC)} °C around the bowl would do`;
  const reason = why === undefined ? '' : `, ${STIR_NAME[why]}`;
  return `Said: ${cueTold(event)}${where}${bath}${reason}.`;
}

function raisedWords(alarm: Extract<RunEvent, { kind: 'alarm-raised' }>): string {
  if (alarm.alarm === 'not-cooled-enough') return `ALARM, ${ALARM_NAME[alarm.alarm]}${turnedWords(alarm)}.`;
  const value = alarm.valueC === null ? '' : ` at ${degrees(alarm.valueC)}`;
  const limit = alarm.limitC === null ? '' : `, the limit is ${degrees(alarm.limitC)}`;
  const peak = alarm.peakC === undefined ? '' : `, on the way to ${degrees(alarm.peakC)}`;
  return `ALARM, ${ALARM_NAME[alarm.alarm]}${value}${limit}${inWords(alarm.inS)}${peak}.`;
}

/** Its value is how far down the bowl got before it turned; one under its limit left too soon. */
function turnedWords({ valueC, limitC }: Extract<RunEvent, { kind: 'alarm-raised' }>): string {
  if (valueC === null || limitC === null) return '';
  const needed = valueC > limitC ? `the seed needs ${degrees(limitC)}` : `not long enough under ${degrees(limitC)}`;
  return `: down to ${degrees(valueC)}, ${needed}`;
}

/** What the chocolate was reckoned to be, and where it was going. */
export function estimateWords(estimate: Estimate): string {
  const rate = `${estimate.rateCPerMin < 0 ? '' : '+'}${estimate.rateCPerMin.toFixed(2)} °C/min`;
  const peak = estimate.peakC === null ? '' : `, carries to ${degrees(estimate.peakC)}`;
  return `${degrees(estimate.tempC)}, ${rate}${etaWords(estimate)}${peak}`;
}

function etaWords({ etaS, etaLowS, etaHighS }: Estimate): string {
  if (etaS === null) return '';
  if (etaS === 0) return ', there';
  const [low, high] = [etaLowS, etaHighS].map((inS) => (inS === null ? 'never' : elapsed(inS * 1000)));
  return `, there in ${elapsed(etaS * 1000)} (${low} to ${high})`;
}

function inWords(inS: number | undefined): string {
  return inS === undefined ? '' : `, in ${inS} s`;
}

function degrees(tempC: number): string {
  return `${tempC.toFixed(2)} °C`;
}

/** What a wire or a person said must not steer the terminal. */
function printable(text: string): string {
  return JSON.stringify(text).replaceAll(/[\u007f-\u009f]/g, '·');
}
