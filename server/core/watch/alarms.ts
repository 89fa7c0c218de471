/**
 * The life of an alarm: a condition that lasts raises it, its lasting absence clears it, a person acknowledges or quietens it.
 * Knows nothing of temperatures beyond the number it was told, nor of sound or screens.
 *
 *   pending ──on-delay──► raised ──off-delay──► cleared, kept until seen
 *      ▲ condition           │ acknowledged: cleared ends it at once
 */
import type { AlarmName, EventBody, Severity } from '../record/event.ts';
import { OFF_DELAY_MS } from './bounds.ts';

const SEVERITY: Readonly<Record<AlarmName, Severity>> = {
  'temper-lost': 'critical',
  scorch: 'critical',
  overshoot: 'warning',
  'scorch-ahead': 'warning',
  'overshoot-ahead': 'warning',
  undershoot: 'warning',
  'undershoot-ahead': 'warning',
  'not-cooled-enough': 'warning',
  'probe-silent': 'warning',
  'probe-lifted': 'warning',
  'below-working': 'notice',
};

export interface AlarmState {
  /** Since when the condition has held; null while it does not. */
  readonly onSinceMs: number | null;
  /** Since when the way back has held; null while it does not. */
  readonly offSinceMs: number | null;
  /** null: pending. */
  readonly raisedAtMs: number | null;
  readonly cleared: boolean;
  readonly acknowledged: boolean;
  readonly extremeC: number | null;
}

export type Alarms = Readonly<Partial<Record<AlarmName, AlarmState>>>;

/** What is true of an alarm's condition now. Between `on` and `off` lies the dead band, where nothing changes. */
export interface Condition {
  readonly alarm: AlarmName;
  readonly on: boolean;
  readonly off: boolean;
  readonly onDelayMs: number;
  readonly valueC: number | null;
  readonly limitC: number | null;
  /** Which way the value gets worse. */
  readonly worse: 'higher' | 'lower';
  readonly inS?: number;
  readonly peakC?: number;
}

export function isRaised(alarms: Alarms, alarm: AlarmName): boolean {
  const state = alarms[alarm];
  return state !== undefined && state.raisedAtMs !== null && !state.cleared;
}

/** The alarms after one look at a condition; what is to be said goes to `say`. Returns the same object when nothing changed. */
export function tend(
  alarms: Alarms,
  now: Condition,
  atMs: number,
  phase: string,
  say: (body: EventBody) => void,
): Alarms {
  const state = alarms[now.alarm];
  if (state === undefined && !now.on) return alarms;
  if (state === undefined || state.raisedAtMs === null || state.cleared)
    return tendQuiet(alarms, state, now, atMs, phase, say);
  return tendRaised(alarms, state, now, atMs, say);
}

function tendQuiet(
  alarms: Alarms,
  state: AlarmState | undefined,
  now: Condition,
  atMs: number,
  phase: string,
  say: (body: EventBody) => void,
): Alarms {
  if (!now.on) {
    if (!state?.cleared) return without(alarms, now.alarm);
    return state.onSinceMs === null ? alarms : put(alarms, now.alarm, { ...state, onSinceMs: null });
  }
  const onSinceMs = state?.onSinceMs ?? atMs;
  const waiting: AlarmState = state ?? {
    onSinceMs,
    offSinceMs: null,
    raisedAtMs: null,
    cleared: false,
    acknowledged: false,
    extremeC: null,
  };
  if (atMs - onSinceMs < now.onDelayMs) return put(alarms, now.alarm, { ...waiting, onSinceMs });
  say({
    kind: 'alarm-raised',
    alarm: now.alarm,
    severity: SEVERITY[now.alarm],
    phase,
    valueC: now.valueC,
    limitC: now.limitC,
    ...(now.inS === undefined ? {} : { inS: now.inS }),
    ...(now.peakC === undefined ? {} : { peakC: now.peakC }),
  });
  return put(alarms, now.alarm, {
    onSinceMs,
    offSinceMs: null,
    raisedAtMs: atMs,
    cleared: false,
    acknowledged: false,
    extremeC: now.valueC,
  });
}

function tendRaised(
  alarms: Alarms,
  state: AlarmState,
  now: Condition,
  atMs: number,
  say: (body: EventBody) => void,
): Alarms {
  const offSinceMs = now.off ? (state.offSinceMs ?? atMs) : null;
  if (offSinceMs !== null && atMs - offSinceMs >= OFF_DELAY_MS) return clear(alarms, now.alarm, atMs, say);
  const extremeC = further(state.extremeC, now);
  if (offSinceMs === state.offSinceMs && extremeC === state.extremeC) return alarms;
  return put(alarms, now.alarm, { ...state, offSinceMs, extremeC });
}

function further(extremeC: number | null, { valueC, worse }: Condition): number | null {
  if (valueC === null || extremeC === null) return extremeC ?? valueC;
  return worse === 'higher' ? Math.max(extremeC, valueC) : Math.min(extremeC, valueC);
}

/** Ends a raised alarm at once; one that was acknowledged is forgotten, another is kept until somebody has seen it. */
export function clear(alarms: Alarms, alarm: AlarmName, atMs: number, say: (body: EventBody) => void): Alarms {
  const state = alarms[alarm];
  if (state === undefined || state.raisedAtMs === null || state.cleared) return alarms;
  say({ kind: 'alarm-cleared', alarm, lastedMs: atMs - state.raisedAtMs, extremeC: state.extremeC });
  if (state.acknowledged) return without(alarms, alarm);
  return put(alarms, alarm, { ...state, onSinceMs: null, offSinceMs: null, cleared: true });
}

/** Seen by a person. An alarm that is not there, or was seen before, changes nothing. */
export function acknowledge(
  alarms: Alarms,
  alarm: AlarmName,
  by: string | undefined,
  say: (body: EventBody) => void,
): Alarms {
  const state = alarms[alarm];
  if (state === undefined || state.raisedAtMs === null || state.acknowledged) return alarms;
  say({ kind: 'alarm-acknowledged', alarm, ...(by === undefined ? {} : { by }) });
  return state.cleared ? without(alarms, alarm) : put(alarms, alarm, { ...state, acknowledged: true });
}

function put(alarms: Alarms, alarm: AlarmName, state: AlarmState): Alarms {
  return { ...alarms, [alarm]: state };
}

function without(alarms: Alarms, alarm: AlarmName): Alarms {
  if (alarms[alarm] === undefined) return alarms;
  const { [alarm]: _gone, ...rest } = alarms;
  return rest;
}
