/** What can ring at the host, and what it is told. */
import type { AlarmName } from '../core/record/event.ts';

export interface Rung {
  readonly alarm: AlarmName;
  readonly severity: 'warning' | 'critical';
  /** What it is and what to do, in one line. */
  readonly words: string;
}

export interface Ringer {
  /** Once; returns at once. */
  ring(rung: Rung): void;
  /** Leaves nothing behind. */
  close(): void;
}
