/** An alarm as a page holds it: raised at 0, seen by nobody, the overshoot of a working dark chocolate unless said otherwise. */
import type { ActiveAlarm } from '../../server/core/show/view.ts';

export function alarm(more: Partial<ActiveAlarm> = {}): ActiveAlarm {
  return {
    alarm: 'overshoot',
    severity: 'warning',
    phase: 'work',
    raisedAtMs: 0,
    valueC: 32.6,
    limitC: 32.5,
    inS: null,
    peakC: null,
    acknowledged: false,
    acknowledgedAtMs: null,
    acknowledgedBy: null,
    quietUntilMs: null,
    ...more,
  };
}
