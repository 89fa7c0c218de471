/** The run sheet: all that a batch record needs of a run on one page, to be signed and filed. Black and greys; nothing outside of it. */
import { cut } from './curve-labels.ts';
import { curveSvg } from './curve-svg.ts';
import { day, type Manner } from './manner.ts';
import {
  ADVICE,
  ALLERGENS,
  type Fact,
  factList,
  factsOf,
  happenedRows,
  judgedOf,
  phasesOf,
  text,
  wide,
} from './paper.ts';
import { fieldMm, type Paper, sheetStyle } from './paper-style.ts';
import { element, escaped } from './svg.ts';
import { type Happening, happenings, nameOf, type ToldRun } from './told-run.ts';

/** Most phases, longest fact and longest verdict, characters, for which there is room beside the rest (ours). */
const PHASES_MOST = 7;
const FACT_MOST_CHARS = 56;
const VERDICT_MOST_CHARS = 170;
const NAME_MOST_CHARS = 60;
const SIGNED_MOST_CHARS = 40;
/** Allergens have the most room of all, and say so where even that is too little. */
const ALLERGENS_MOST_CHARS = 200;
const ALLERGENS_CUT = ' (there is more: see the file)';
/** Width of the picture, its least height on each paper, and its greatest where little is said, in its own units. */
const PICTURE_WIDE = 1_000;
const PICTURE_HIGH: Readonly<Record<Paper, number>> = { a4: 400, letter: 300 };
const PICTURE_MOST_HIGH = 640;

/** Heights of the parts, mm, and characters of a line of a fact, measured with the widest face it is laid out in. */
const FIXED_MM = 36;
const LINE_MM = 5.2;
const PHASE_LINE_MM = 5.45;
const FACT_LINE_MM = 3.97;
const FACT_EDGE_MM = 0.96;
/** By so much the longer of the two columns of facts outdoes their half. */
const UNEVEN_MM = 8.8;
const FACT_LINE_CHARS = 28;
const JUDGED_LINE_CHARS = 100;

export interface Sheet {
  readonly html: string;
  /** What stands in its style element, for whoever says which styles are let run. */
  readonly style: string;
}

export function runSheet(told: ToldRun, manner: Manner, paper: Paper): Sheet {
  const { stored, wallMsOf, card } = told;
  const style = sheetStyle(paper);
  const facts = factsOf(told, manner).map(shortened);
  const all = happenings(told, manner).filter(({ kind }) => kind !== 'said' && kind !== 'phase');
  const judged = judgedOf(told).map(([name, value]): Fact => [name, cut(value, VERDICT_MOST_CHARS)]);
  const lines = linesLeft(told, facts, judged, paper);
  const picture = { width: PICTURE_WIDE, height: pictureHigh(lines - all.length, paper), isTitled: false };
  const main = element(
    'main',
    {},
    element(
      'header',
      { class: 'head' },
      text('h1', cut(nameOf(told), NAME_MOST_CHARS)),
      text('p', `Run sheet, ${day(wallMsOf(stored.startedAtMs))}`),
    ),
    factList(facts, 'facts'),
    wide('The curve', curveSvg(told, { ...manner, ...picture })),
    phasesOf(told, manner, PHASES_MOST),
    happened(told, all, lines),
    factList(judged, 'judged'),
    element(
      'footer',
      { class: 'sign' },
      text('p', `Signed${card.signedBy === null ? '' : `: ${cut(card.signedBy, SIGNED_MOST_CHARS)}`}`),
      text('p', 'Date'),
    ),
    text('p', `${ADVICE} Run ${stored.run}.`, 'advice'),
  );
  return { html: document(`Run sheet: ${nameOf(told)}`, style, main), style };
}

function shortened([name, value]: Fact): Fact {
  if (name !== ALLERGENS) return [name, cut(value, FACT_MOST_CHARS)];
  return [name, value.length <= ALLERGENS_MOST_CHARS ? value : `${cut(value, ALLERGENS_MOST_CHARS)}${ALLERGENS_CUT}`];
}

/** How many lines of what happened there is room for. */
function linesLeft({ view }: ToldRun, facts: readonly Fact[], judged: readonly Fact[], paper: Paper): number {
  const { widthMm, heightMm } = fieldMm(paper);
  const pictureMm = (widthMm * PICTURE_HIGH[paper]) / PICTURE_WIDE;
  const factsMm = (linesOf(facts, FACT_LINE_CHARS) * FACT_LINE_MM + facts.length * FACT_EDGE_MM) / 2 + UNEVEN_MM;
  const judgedMm = linesOf(judged, JUDGED_LINE_CHARS) * LINE_MM;
  const phasesMm = (Math.min(view.visits.length, PHASES_MOST + 1) + 2) * PHASE_LINE_MM;
  return Math.floor((heightMm - FIXED_MM - factsMm - pictureMm - phasesMm - judgedMm) / LINE_MM) - 1;
}

function linesOf(facts: readonly Fact[], chars: number): number {
  return facts.reduce((sum, [, value]) => sum + Math.max(1, Math.ceil(value.length / chars)), 0);
}

/** Lines that nothing is said on are the picture's. */
function pictureHigh(linesFree: number, paper: Paper): number {
  const freeMm = Math.max(0, linesFree - 1) * LINE_MM;
  return Math.min(
    PICTURE_MOST_HIGH,
    Math.floor(PICTURE_HIGH[paper] + (freeMm / fieldMm(paper).widthMm) * PICTURE_WIDE),
  );
}

/** What a person did, wrote or was warned of comes first; what finds no room is counted. */
function happened(told: ToldRun, all: readonly Happening[], most: number): string {
  const shown = chosen(all, Math.max(0, most));
  const left = all.length - shown.length;
  const head = left === 0 ? '' : `; … ${left} more in the file`;
  const none = all.length === 0 ? text('p', 'Nothing was noted, and no alarm was raised.') : '';
  return element(
    'section',
    { class: 'happenings' },
    text('h2', `Notes, acts and alarms${head}`),
    none,
    happenedRows(told, shown),
  );
}

/** Alarms before notes before acts where not all of them have room; then in order of time again. */
function chosen(all: readonly Happening[], most: number): Happening[] {
  const ranked = all.toSorted((a, b) => RANK[a.kind] - RANK[b.kind]).slice(0, most);
  return ranked.toSorted((a, b) => a.atMs - b.atMs);
}

const RANK: Readonly<Record<Happening['kind'], number>> = { alarm: 0, note: 1, act: 2, phase: 3, said: 4 };

export function document(title: string, style: string, main: string, more = ''): string {
  const head = `<meta charset="utf-8"><meta name="viewport" content="width=device-width">${more}<title>${escaped(title)}</title><style>${style}</style>`;
  return `<!doctype html>\n<html lang="en"><head>${head}</head><body>${main}</body></html>\n`;
}
