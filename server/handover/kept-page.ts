/** A run as one file that opens in any browser, with no network and no script: the picture, all that happened, the curve minute by minute, and the whole run to take out again. */
import type { Tile } from '../core/show/wire.ts';
import { curveSvg } from './curve-svg.ts';
import { clock, day, degrees, into, type Manner, unitSign } from './manner.ts';
import { ADVICE, factList, factsOf, happenedRows, judgedOf, phasesOf, text, wide } from './paper.ts';
import { KEPT_STYLE } from './paper-style.ts';
import { document } from './run-sheet.ts';
import { element, escaped } from './svg.ts';
import { happenings, nameOf, type ToldRun } from './told-run.ts';

const PICTURE = { width: 1000, height: 620, isTitled: false };
const MINUTE_MS = 60_000;

/** Nothing is fetched and nothing runs, whatever somebody wrote into a note. */
const NOTHING_ELSE = `<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">`;

/** `runFile`: the run as text that can be brought in again. */
export function keptPage(told: ToldRun, manner: Manner, runFile: string): string {
  const { stored, wallMsOf } = told;
  const main = element(
    'main',
    {},
    element('header', { class: 'head' }, text('h1', nameOf(told)), text('p', day(wallMsOf(stored.startedAtMs)))),
    wide('The curve', curveSvg(told, { ...manner, ...PICTURE })),
    factList(judgedOf(told), 'judged'),
    factList(factsOf(told, manner), 'facts'),
    phasesOf(told, manner, Infinity),
    element('section', {}, text('h2', 'What happened'), happenedRows(told, happenings(told, manner))),
    element('details', {}, text('summary', 'The curve, minute by minute'), minutes(told, manner)),
    element('p', { class: 'keep' }, keepLink(stored.run, runFile)),
    text('p', `${ADVICE} Run ${stored.run}.`, 'advice'),
  );
  return document(nameOf(told), KEPT_STYLE, main, NOTHING_ELSE);
}

function keepLink(run: string, runFile: string): string {
  // Base64 holds nothing that has to be escaped: going through tens of megabytes for it would hold up the bowl.
  const href = `data:application/jsonl;base64,${Buffer.from(runFile, 'utf8').toString('base64')}`;
  return `<a download="${escaped(run)}.jsonl" href="${href}">Take the whole run out of this page</a>`;
}

function minutes(told: ToldRun, manner: Manner): string {
  const { tiles, beganAtMs, wallMsOf } = told;
  const unit = unitSign(manner);
  const head = ['Clock', 'Into the run', `Lowest read, ${unit}`, `Highest read, ${unit}`, `Estimate, ${unit}`];
  const shown = (valueC: number | null): string => (valueC === null ? 'no reading' : degrees(valueC, manner));
  const rows = byMinute(tiles, beganAtMs).map(([atMs, lowC, highC, estimateC]) =>
    element(
      'tr',
      {},
      ...[clock(wallMsOf(atMs)), into(atMs - beganAtMs), shown(lowC), shown(highC), shown(estimateC)].map((cell) =>
        text('td', cell),
      ),
    ),
  );
  return element(
    'table',
    { class: 'minutes' },
    element('thead', {}, element('tr', {}, ...head.map((name) => element('th', { scope: 'col' }, escaped(name))))),
    element('tbody', {}, ...rows),
  );
}

/** Columns joined to one for each minute of the run in which anything came. */
function byMinute(tiles: readonly Tile[], startMs: number): Tile[] {
  const joined = new Map<number, Tile>();
  for (const [atMs, lowC, highC, estimateC] of tiles.filter(([at]) => at >= startMs)) {
    const minuteMs = startMs + Math.floor((atMs - startMs) / MINUTE_MS) * MINUTE_MS;
    const [, low = null, high = null, last = null] = joined.get(minuteMs) ?? [];
    joined.set(minuteMs, [minuteMs, either(low, lowC, Math.min), either(high, highC, Math.max), estimateC ?? last]);
  }
  return [...joined.values()];
}

function either(a: number | null, b: number | null, pick: (a: number, b: number) => number): number | null {
  return a === null || b === null ? (a ?? b) : pick(a, b);
}
