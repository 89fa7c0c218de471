/** A run handed over: as tables, as the file that replays, as a picture, on paper. Everything is made of what is stored, at the moment it is asked for. */
import { encodeCsv } from '../core/record/csv.ts';
import { oneOf } from '../core/record/shape.ts';
import type { Manner } from '../handover/manner.ts';
import { inPieces } from '../handover/pieces.ts';
import { runLines } from '../handover/run-file.ts';
import { type Separator, SEPARATORS, spreadsheetLines, usualSeparator } from '../handover/spreadsheet.ts';
import { toldRun } from '../handover/told-run.ts';
import type { StoredRun } from '../store/records.ts';
import type { Store } from '../store/store.ts';
import type { Answer, Asked, Route } from './route.ts';
import { ofRun } from './runs.ts';

export interface ExportNeeds {
  readonly store: Store;
}

/** How figures stand in what is handed over; absent: °C with a point. */
const MANNER = { decimal: oneOf(['point', 'comma']), unit: oneOf(['c', 'f']) };

/** Columns of the curve on paper (ours: finer than any printer draws a line of this length). */
const PAPER_COLUMNS = 1_600;

export function exportRoutes({ store }: ExportNeeds): Route[] {
  const told = (run: StoredRun) => toldRun(run, store.tilesOf(run.run, PAPER_COLUMNS));
  return [
    {
      method: 'get',
      path: '/runs/{run}/trace.jsonl',
      does: 'All that went in and came out, with notes and card, as a file that replays and can be brought in again.',
      gives: { file: 'application/jsonl' },
      answer: ofRun(store, (run) =>
        saved(run, '.jsonl', 'application/jsonl', inPieces(runLines(run, store.inputsOf(run.run)))),
      ),
    },
    {
      method: 'get',
      path: '/runs/{run}/table.csv',
      does: 'The curve as a table: seconds and °C with a decimal point, one row for each moment.',
      gives: { file: 'text/csv' },
      answer: ofRun(store, (run) =>
        saved(run, '.csv', CSV, inPieces(encodeCsv(store.readingsOf(run.run), run.startedAtMs))),
      ),
    },
    {
      method: 'get',
      path: '/runs/{run}/spreadsheet.csv',
      does: 'The curve with phases, notes and alarms, for a spreadsheet: figures as they are written where it is opened.',
      query: { ...MANNER, separator: oneOf(Object.keys(SEPARATORS)) },
      gives: { file: 'text/csv' },
      answer: ofRun(store, (run, asked) => {
        const manner = mannerOf(asked);
        const separator = (asked.query['separator'] as Separator | undefined) ?? usualSeparator(manner);
        const lines = spreadsheetLines(told(run), store.readingsOf(run.run), manner, separator);
        return saved(run, '-spreadsheet.csv', CSV, inPieces(lines));
      }),
    },
  ];
}

const CSV = 'text/csv; charset=utf-8';

function mannerOf({ query }: Asked): Manner {
  const { decimal = 'point', unit = 'c' } = query as Partial<Manner>;
  return { decimal, unit };
}

/** A file for a browser to save, named after the run. */
function saved({ run }: StoredRun, ending: string, type: string, content: string | Iterable<string>): Answer {
  return { kind: 'file', type, name: `${run}${ending}`, content };
}
