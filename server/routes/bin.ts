/** The bin: where a run lies for 30 days before it is deleted, and from where it can be taken out again or deleted at once. */
import { flag, object, orNull, text, wallTime } from '../core/record/shape.ts';
import type { Session } from '../session/session.ts';
import type { Store } from '../store/store.ts';
import { toldOnDisk } from '../on-disk.ts';
import { type Answer, json, NOT_ON_DISK, problem, type Route } from './route.ts';
import { ofRun } from './runs.ts';

export interface BinNeeds {
  readonly sessions: ReadonlyMap<string, Session>;
  readonly store: Store;
  readonly wallNowMs: () => number;
}

const binnedShape = object({ binned: flag });

export function binRoutes({ sessions, store, wallNowMs }: BinNeeds): Route[] {
  const told = (run: string): Promise<boolean> => toldOnDisk({ sessions, store }, run);
  return [
    {
      method: 'post',
      path: '/runs/{run}/bin',
      does: 'Puts a run into the bin, where it is kept for 30 days, or takes it out again.',
      refusal: 'Not for the bin',
      body: binnedShape,
      gives: { json: object({ binnedAtWall: orNull(wallTime) }).schema },
      problems: [409, 503],
      answer: ofRun(store, async ({ run, endedAtMs, binnedAtWall }, { body }) => {
        if (endedAtMs === null) return problem(409, 'Not now', 'This run is going. End it first.');
        const { binned } = body as { readonly binned: boolean };
        const isSame = binned === (binnedAtWall !== null);
        const since = isSame ? binnedAtWall : binned ? new Date(wallNowMs()).toISOString() : null;
        // Also where the file says the same already: what still waits for the disk may say otherwise.
        store.bin(run, since);
        if (!(await told(run))) return NOT_ON_DISK;
        const now = store.openRun(run);
        return now === null ? beingDeleted(run) : json({ binnedAtWall: now.binnedAtWall });
      }),
    },
    {
      method: 'delete',
      path: '/runs/{run}',
      does: 'Deletes for good a run that lies in the bin.',
      gives: { json: object({ run: text }).schema },
      problems: [409, 503],
      answer: ofRun(store, async ({ run, binnedAtWall }) => {
        if (binnedAtWall === null) return NOT_IN_BIN;
        void store.purge(run);
        if (!(await told(run))) return NOT_ON_DISK;
        return store.openRun(run) === null ? json({ run }) : NOT_IN_BIN;
      }),
    },
  ];
}

const NOT_IN_BIN = problem(409, 'Not now', 'Only a run in the bin is deleted. Put it there first.');

function beingDeleted(run: string): Answer {
  return problem(404, 'No such run', `The run ${run} is being deleted.`);
}
