/** The runs on record: listed, opened, noted on. */
import { VERDICTS } from '../core/record/card.ts';
import { oneOf, textUpTo, wholeFromText } from '../core/record/shape.ts';
import type { Session } from '../session/session.ts';
import type { RunQuery, StoredRun } from '../store/records.ts';
import { RUN_MOST_MS } from '../intake/intake.ts';
import { RUN_ORDERS } from '../store/records.ts';
import type { Store } from '../store/store.ts';
import { choicesShape, noteInfoShape, openedRunShape, runPageShape } from './answers.ts';
import { type NewNote, noteOf, noteShape } from './note.ts';
import { toldOnDisk } from '../on-disk.ts';
import { type Answer, type Asked, json, problem, type Route } from './route.ts';

export interface RunNeeds {
  readonly sessions: ReadonlyMap<string, Session>;
  readonly store: Store;
  readonly wallNowMs: () => number;
  readonly newId: () => string;
}

/** Columns of a run's curve where nobody says how many (ours: as many as a snapshot has). */
export const CURVE_COLUMNS = 2_400;
/** Runs on one page of the list, and the most that are given at once (ours). */
const RUNS_PER_PAGE = 50;
const RUNS_MOST = 500;

const word = textUpTo(200);

export function runRoutes({ sessions, store, wallNowMs, newId }: RunNeeds): Route[] {
  const wallNow = (): string => new Date(wallNowMs()).toISOString();
  return [
    {
      method: 'get',
      path: '/runs',
      does: 'Runs on record, a page of the list at a time.',
      query: {
        words: word,
        coating: word,
        profile: word,
        tag: word,
        standing: word,
        verdict: oneOf([...VERDICTS, 'none']),
        simulated: oneOf(['yes', 'no']),
        bin: oneOf(['yes']),
        order: oneOf(RUN_ORDERS),
        most: wholeFromText(1, RUNS_MOST),
        after: wholeFromText(0, Number.MAX_SAFE_INTEGER),
      },
      gives: { json: runPageShape.schema },
      answer: ({ query }) => json(store.runs(queryOf(query))),
    },
    {
      method: 'get',
      path: '/run-choices',
      does: 'What the list of runs can be narrowed to: coatings, profiles and tags that runs have.',
      gives: { json: choicesShape.schema },
      answer: () => json(store.choices()),
    },
    {
      method: 'get',
      path: '/runs/{run}',
      does: 'One run as the page opens it.',
      gives: { json: openedRunShape.schema },
      answer: ofRun(store, (run) => json(runForPage(store, run))),
    },
    {
      method: 'post',
      path: '/runs/{run}/notes',
      does: 'Adds a note at a moment or over a span; it may take the place of an older one, which is kept.',
      refusal: 'Not a note',
      body: noteShape,
      gives: { json: noteInfoShape.schema, status: 201 },
      answer: ofRun(store, async ({ run, bowl, startedAtMs, endedAtMs }, { body }) => {
        const note = noteOf(body as NewNote, newId(), wallNow());
        const farMs = [note.atMs, note.untilMs ?? note.atMs].find((ms) => Math.abs(ms - startedAtMs) > RUN_MOST_MS);
        if (farMs !== undefined) return problem(400, 'Not a note', `${farMs} is no moment of this run.`, 'atMs');
        const session = sessions.get(bowl);
        if (session === undefined) store.annotate(run, note);
        else session.annotate(run, note);
        // Whoever looks back at a run asks for it anew: then the note has to be there.
        if (endedAtMs !== null) await toldOnDisk({ sessions, store }, run);
        return json(note, 201);
      }),
    },
  ];
}

/** Answers about a run that is there; for another, says so. */
export function ofRun(
  store: Pick<Store, 'openRun'>,
  answer: (run: StoredRun, asked: Asked) => Answer | Promise<Answer>,
): Route['answer'] {
  return (asked) => {
    const name = asked.params['run']!;
    const run = store.openRun(name);
    return run === null ? problem(404, 'No such run', `There is no run ${name}.`) : answer(run, asked);
  };
}

function queryOf({ most, after, ...rest }: Asked['query']): RunQuery {
  return { ...(rest as Partial<RunQuery>), most: Number(most ?? RUNS_PER_PAGE), after: Number(after ?? 0) };
}

/** What the page knows of a run that is going, and its whole curve in columns. */
function runForPage(store: Store, stored: StoredRun) {
  const { run, header, simulated, startedAtMs, startedAtWall, turns: _, ...rest } = stored;
  const { profile, condition, probeLagS } = header;
  const info = { run, profile, condition, simulated, startedAtMs, startedAtWall, probeLagS, resumed: false };
  return { info, header, ...rest, tiles: store.tilesOf(run, CURVE_COLUMNS) };
}
