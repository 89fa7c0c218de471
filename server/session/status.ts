/** How a bowl stands, as it is told to whoever asks. */
import type { LinkState, RunInfo } from '../core/show/wire.ts';
import type { UsedLag } from '../core/check/told.ts';

/** How the bowl stands, for a page that has no run to show yet. */
export interface BowlStatus {
  readonly bowl: string;
  readonly state: 'waiting' | 'going';
  readonly simulated: boolean;
  readonly link: LinkState;
  /** What the next run with this thermometer begins with; null: not known. */
  readonly probeLag: UsedLag | null;
  readonly chosen: {
    readonly profile: string | null;
    readonly condition: string | null;
    readonly startAt: string | null;
  };
  readonly info: RunInfo | null;
}

/** What was heard when a port was opened grows old: told is the newest line. */
export function withNewest(link: LinkState, lastLine: string | null): LinkState {
  return link.state !== 'up' || link.sample === undefined || lastLine === null ? link : { ...link, sample: lastLine };
}
