/**
 * What the list of runs says of a run, kept up turn by turn so that the list never reads a log. Pure; plain data that is stored as it is.
 */
import type { Visit } from '../core/show/listed.ts';
import type { AlarmName, RunEvent, Standing } from '../core/record/event.ts';
import type { Reading } from '../core/record/run.ts';
import { URGENCY } from '../core/show/view.ts';

export interface Tally {
  readonly standing: Standing | null;
  readonly worstAlarm: AlarmName | null;
  /** The furthest the estimate went over a ceiling whose alarm was raised, °C. */
  readonly worstOverC: number | null;
  /** Ceilings crossed and not yet cleared: the limit by alarm, °C. */
  readonly crossed: Readonly<Partial<Record<AlarmName, number>>>;
  readonly visits: readonly Visit[];
}

export const EMPTY_TALLY: Tally = { standing: null, worstAlarm: null, worstOverC: null, crossed: {}, visits: [] };

/** `tally` after one more turn. */
export function tallied(tally: Tally, events: readonly RunEvent[], readings: readonly Reading[]): Tally {
  const entered = events.flatMap((event) =>
    event.kind === 'phase-entered' ? [{ phase: event.phase, atMs: event.atMs }] : [],
  );
  // Once for the turn: copied at each of thousands of events they would hold up everything else.
  const visits = entered.length === 0 ? tally.visits : [...tally.visits, ...entered];
  return readings.reduce(withReading, events.reduce(withEvent, { ...tally, visits }));
}

function withEvent(tally: Tally, event: RunEvent): Tally {
  switch (event.kind) {
    case 'standing':
      return { ...tally, standing: event.standing };
    case 'alarm-raised':
      return raised(tally, event);
    case 'alarm-cleared':
      return cleared(tally, event.alarm, event.extremeC);
    default:
      return tally;
  }
}

type Raised = Extract<RunEvent, { kind: 'alarm-raised' }>;

function raised(tally: Tally, { alarm, valueC, limitC }: Raised): Tally {
  const worst = tally.worstAlarm;
  const worstAlarm = worst === null || URGENCY[alarm] < URGENCY[worst] ? alarm : worst;
  if (!isOverCeiling(alarm) || limitC === null) return { ...tally, worstAlarm };
  return { ...over(tally, valueC, limitC), worstAlarm, crossed: { ...tally.crossed, [alarm]: limitC } };
}

function cleared(tally: Tally, alarm: AlarmName, extremeC: number | null): Tally {
  const { [alarm]: limitC, ...crossed } = tally.crossed;
  return limitC === undefined ? tally : { ...over(tally, extremeC, limitC), crossed };
}

/** The alarms that stand for a crossed ceiling; `temper-lost` has a limit of its own, beyond it. */
function isOverCeiling(alarm: AlarmName): boolean {
  return alarm === 'overshoot' || alarm === 'scorch';
}

function withReading(tally: Tally, reading: Reading): Tally {
  const limits = Object.values(tally.crossed);
  if (limits.length === 0 || reading.role !== 'chocolate') return tally;
  return over(tally, reading.estimateC, Math.min(...limits));
}

function over(tally: Tally, valueC: number | null, limitC: number): Tally {
  if (valueC === null) return tally;
  const overC = Math.round((valueC - limitC) * 100) / 100;
  return overC > (tally.worstOverC ?? 0) ? { ...tally, worstOverC: overC } : tally;
}
