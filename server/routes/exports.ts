/** A run handed over: as tables, as the file that replays, as a picture, on paper. Everything is made of what is stored, at the moment it is asked for. */
import { cardOf } from '../core/record/card.ts';
import { encodeCsv } from '../core/record/csv.ts';
import { oneOf } from '../core/record/shape.ts';
import { curveSvg } from '../handover/curve-svg.ts';
import { keptPage } from '../handover/kept-page.ts';
import type { Manner } from '../handover/manner.ts';
import { type Paper, PAPERS } from '../handover/paper-style.ts';
import { channelsOf, gathered } from '../handover/long-runs.ts';
import { inPieces } from '../handover/pieces.ts';
import { runLines } from '../handover/run-file.ts';
import { runSheet } from '../handover/run-sheet.ts';
import { spreadsheetLines, usualSeparator } from '../handover/spreadsheet.ts';
import { toldRun } from '../handover/told-run.ts';
import { type Separator, SEPARATORS } from '../separators.ts';
import { inSlices } from '../slices.ts';
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
const PAPER_COLUMNS = 2_400;
/** The picture by itself, in its own units. */
const PICTURE = { width: 1200, height: 620, isTitled: true };

export function exportRoutes({ store }: ExportNeeds): Route[] {
  const told = (run: StoredRun) => toldRun(run, store.tilesOf(run.run, PAPER_COLUMNS));
  return [
    {
      method: 'get',
      path: '/runs/{run}/trace.jsonl',
      does: 'All that went in and came out, with notes and card, as a file that replays and can be brought in again.',
      gives: { file: 'application/jsonl' },
      answer: ofRun(store, (run) =>
        saved(run, '.jsonl', 'application/jsonl', inPieces(runLines(run, store.eachInputOf(run.run, run.turns)))),
      ),
    },
    {
      method: 'get',
      path: '/runs/{run}/table.csv',
      does: 'The curve as a table: seconds and °C with a decimal point, one row for each moment.',
      gives: { file: 'text/csv' },
      answer: ofRun(store, async (run) => {
        const channels = await inSlices(channelsOf(store.eachReadingOf(run.run)));
        return saved(run, '.csv', CSV, inPieces(encodeCsv(store.eachReadingOf(run.run), channels, run.startedAtMs)));
      }),
    },
    {
      method: 'get',
      path: '/runs/{run}/spreadsheet.csv',
      does: 'The curve with phases, notes and alarms, for a spreadsheet: figures as they are written where it is opened.',
      query: { ...MANNER, separator: oneOf(Object.keys(SEPARATORS)) },
      gives: { file: 'text/csv' },
      answer: ofRun(store, async (run, asked) => {
        const whole = told(run);
        const manner = mannerOf(asked);
        const separator = (asked.query['separator'] as Separator | undefined) ?? usualSeparator(manner);
        const channels = await inSlices(channelsOf(store.eachReadingOf(run.run)));
        const lines = spreadsheetLines(whole, store.eachReadingOf(run.run), channels, manner, separator);
        return saved(run, '-spreadsheet.csv', CSV, inPieces(lines));
      }),
    },
    {
      method: 'get',
      path: '/runs/{run}/curve.svg',
      does: 'The picture of the run, readable in greyscale and by a screen reader.',
      query: MANNER,
      gives: { file: 'image/svg+xml' },
      answer: ofRun(store, (run, asked) =>
        saved(run, '.svg', 'image/svg+xml', curveSvg(told(run), { ...mannerOf(asked), ...PICTURE })),
      ),
    },
    {
      method: 'get',
      path: '/runs/{run}/sheet.html',
      does: 'The run sheet: one page to print, sign and file.',
      query: { ...MANNER, paper: oneOf(Object.keys(PAPERS)) },
      gives: { file: 'text/html' },
      answer: ofRun(store, (run, asked) => {
        const paper = (asked.query['paper'] as Paper | undefined) ?? 'a4';
        const { html, style } = runSheet(told(run), mannerOf(asked), paper);
        return { kind: 'file', type: HTML, name: null, content: html, style };
      }),
    },
    {
      method: 'get',
      path: '/runs/{run}/page.html',
      does: 'The run as one file that opens in any browser with no network, with the whole run in it.',
      query: MANNER,
      gives: { file: 'text/html' },
      answer: ofRun(store, async (run, asked) => {
        const runFile = await inSlices(gathered(inPieces(runLines(run, store.eachInputOf(run.run, run.turns)))));
        return saved(run, '.html', HTML, keptPage(told(run), mannerOf(asked), runFile));
      }),
    },
  ];
}

const HTML = 'text/html; charset=utf-8';
const CSV = 'text/csv; charset=utf-8';

function mannerOf({ query }: Asked): Manner {
  const { decimal = 'point', unit = 'c' } = query as Partial<Manner>;
  return { decimal, unit };
}

/** A file for a browser to save. */
function saved(run: StoredRun, ending: string, type: string, content: string | Iterable<string>): Answer {
  return { kind: 'file', type, name: `${fileName(run)}${ending}`, content };
}

/** 2026-11-25-dark-lot-12: as a person finds it again in a folder. Whatever is no letter or digit becomes a hyphen. */
function fileName({ startedAtWall, header, card }: StoredRun): string {
  const parts = [startedAtWall.slice(0, 10), header.profile.id, cardOf(card).lot ?? ''];
  return parts
    .join('-')
    .replaceAll(/[^\p{L}\p{N}]+/gu, '-')
    .replace(/-$/, '');
}
