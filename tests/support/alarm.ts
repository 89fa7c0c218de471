/** An overshoot of a working dark chocolate: as it is raised, and as a page holds it. */
import type { EventBody } from '../../server/core/record/event.ts';
import type { ActiveAlarm } from '../../server/core/show/view.ts';

export const OVERSHOOT = {
  kind: 'alarm-raised',
  alarm: 'overshoot',
  severity: 'warning',
  phase: 'work',
  valueC: 32.6,
  limitC: 32.5,
} as const satisfies EventBody;

/** An alarm as a page holds it: raised at 0, seen by nobody, that overshoot unless said otherwise. */
export function alarm(more: Partial<ActiveAlarm> = {}): ActiveAlarm {
  const { alarm: name, severity, phase, valueC, limitC } = OVERSHOOT;
  return {
    alarm: name,
    severity,
    phase,
    raisedAtMs: 0,
    valueC,
    limitC,
    inS: null,
    peakC: null,
    acknowledged: false,
    acknowledgedAtMs: null,
    acknowledgedBy: null,
    quietUntilMs: null,
    ...more,
  };
}
