/**
 * Which alarm sounds, on a page and at the host alike: one that nobody has seen, that is no notice, and that is not quietened itself. So a
 * worse one sounds while another is quiet, and none is ever quiet for one that came later.
 */
import type { ActiveAlarm } from './view.ts';

/** Worst first; empty: silence. `atMs`: feed clock now. */
export function ringing(alarms: readonly ActiveAlarm[], atMs: number): readonly ActiveAlarm[] {
  return alarms.filter((alarm) => !alarm.acknowledged && alarm.severity !== 'notice' && !isQuiet(alarm, atMs));
}

export function isQuiet({ quietUntilMs }: ActiveAlarm, atMs: number): boolean {
  return quietUntilMs !== null && quietUntilMs > atMs;
}
