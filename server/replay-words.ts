/**
 * A replayed run as lines to read in a terminal. Things bear the names they have in the log, so that both can be laid side by side;
 * the page has words of its own.
 */
import type { Estimate } from './core/bowl/estimate.ts';
import type { RunEvent } from './core/record/event.ts';

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
      return `run begins with profile ${event.profile}${event.condition === null ? '' : `, chocolate ${event.condition}`}`;
    case 'phase-entered':
      return `phase ${event.phase}${event.from === null ? '' : ` after ${event.from}`} (${event.by})`;
    case 'band-reached':
      return `band of ${event.phase} reached at ${degrees(event.valueC)}`;
    case 'alarm-raised':
      return raisedWords(event);
    case 'alarm-cleared':
      return `alarm ${event.alarm} over, it lasted ${elapsed(event.lastedMs)}${event.extremeC === null ? '' : ` and went to ${degrees(event.extremeC)}`}`;
    case 'alarm-acknowledged':
      return `alarm ${event.alarm} seen${event.by === undefined ? '' : ` by ${printable(event.by)}`}`;
    case 'alarm-quietened':
      return `alarm ${event.alarm} made quiet`;
    case 'cue':
      return `cue ${event.cue}${inWords(event.inS)}${event.landsC === undefined ? '' : `, lands at ${degrees(event.landsC)}`}`;
    case 'standing':
      return `standing: ${event.standing} (${event.why})`;
    case 'act':
      return `done: ${event.act}`;
    case 'link':
      return `link ${event.up ? 'up' : 'down'}${event.why === undefined ? '' : `: ${printable(event.why)}`}`;
    case 'probe':
      return event.state === 'out' ? 'probe out of the bowl' : 'probe back in the bowl';
    case 'rejected':
      return `not used: ${event.reason}, ${event.count} so far, like ${printable(event.sample)}`;
    case 'correction-changed':
      return `probe corrected by ${event.offsetC} °C and a gain of ${event.gain}`;
    case 'role-changed':
      return `channel ${printable(event.channel)} is ${event.role}`;
    case 'run-ended':
      return event.by === 'hand' ? 'run ended by hand' : 'run ends with the trace';
  }
}

function raisedWords(alarm: Extract<RunEvent, { kind: 'alarm-raised' }>): string {
  const value = alarm.valueC === null ? '' : ` at ${degrees(alarm.valueC)}`;
  const limit = alarm.limitC === null ? '' : `, limit ${degrees(alarm.limitC)}`;
  const peak = alarm.peakC === undefined ? '' : `, on the way to ${degrees(alarm.peakC)}`;
  return `ALARM ${alarm.alarm} (${alarm.severity}) in ${alarm.phase}${value}${limit}${inWords(alarm.inS)}${peak}`;
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
