/** What the page costs: its weight, its first paint, its redraws, its memory. */
import type { Browser } from 'playwright-core';
import { broughtAtOnce, broughtBy, buildPieces, gzipped, modulesOf, type Piece } from '../../support/bundle.ts';
import { launchBrowser } from '../../support/browser.ts';
import type { Figure } from '../figures.ts';
import { measureFirstPaint } from './first-paint.ts';
import { measureHeap } from './heap.ts';
import { buildShiftPage, measureRedraws } from './redraws.ts';

/** A kitchen's tablet against a desk machine (ours; the goals were set with it). */
const SLOWER = 4;
const REDRAW_GOAL_MS = 16;
const PAINT_GOAL_MS = 1_000;
const HEAP_GOAL = 1;

export async function measurePage(rounds: number): Promise<readonly Figure[]> {
  const browser = await launchBrowser();
  try {
    return [
      ...weigh(await buildPieces()),
      ...(await firstPaints(browser, rounds)),
      ...(await redraws(browser, rounds)),
      ...(await heap(browser, rounds)),
    ];
  } finally {
    await browser.close();
  }
}

function weigh(pieces: readonly Piece[]): Figure[] {
  const atOnce = broughtAtOnce(pieces);
  const isRoad = (piece: Piece): boolean => modulesOf(piece).some((id) => id.endsWith('/web/road/road.ts'));
  const atBowl = broughtBy(pieces, [...atOnce, ...pieces.filter(isRoad)]);
  const kB = (name: string, of: readonly Piece[]): Figure => ({ name, unit: 'kB', rounds: [gzipped(of) / 1000] });
  return [
    kB('script, gzipped: all that stands without the road', atOnce),
    kB('… road and chart too', atBowl),
    kB(
      '… of that the charting library',
      atBowl.filter(({ name }) => name === 'chart'),
    ),
    kB('… pages of past runs too', pieces),
  ];
}

async function firstPaints(browser: Browser, rounds: number): Promise<Figure[]> {
  const loads = await inTurn(rounds, () => measureFirstPaint(browser));
  return [
    { name: 'cold load: first paint', unit: 'ms', goal: PAINT_GOAL_MS, rounds: loads.map(({ paintMs }) => paintMs) },
    { name: 'cold load: shows what it was told', unit: 'ms', rounds: loads.map(({ toldMs }) => toldMs) },
    { name: 'cold load: the road is drawn', unit: 'ms', rounds: loads.map(({ roadMs }) => roadMs) },
  ];
}

/** 95th percentiles of each round. */
async function redraws(browser: Browser, rounds: number): Promise<Figure[]> {
  const built = await buildShiftPage();
  const figures: Figure[] = [];
  for (const [kind, name] of [
    ['follow', 'redraw, 12 h, following'],
    ['all', 'redraw, 12 h, the whole run'],
    ['four', 'redraw, 12 h, the whole run, three channels more'],
  ] as const) {
    const taken = await inTurn(rounds, () => measureRedraws(browser, built, kind, SLOWER));
    figures.push(
      { name: `${name}: script`, unit: 'ms', goal: REDRAW_GOAL_MS, rounds: taken.map(({ scriptMs }) => scriptMs) },
      { name: `${name}: raster`, unit: 'ms', rounds: taken.map(({ rasterMs }) => rasterMs) },
    );
  }
  return figures;
}

async function heap(browser: Browser, rounds: number): Promise<Figure[]> {
  const taken = await inTurn(rounds, () => measureHeap(browser));
  const unit = 'MB per h of run';
  return [
    { name: 'heap, columns apart', unit, goal: HEAP_GOAL, rounds: taken.map(({ heapPerHour }) => heapPerHour) },
    { name: 'columns', unit, rounds: taken.map(({ columnsPerHour }) => columnsPerHour) },
    { name: '… seen over so much of a run', unit: 'h', rounds: taken.map(({ hours }) => hours) },
  ];
}

/** One after the other: side by side they would measure each other. */
async function inTurn<Taken>(rounds: number, measure: () => Promise<Taken>): Promise<Taken[]> {
  const all: Taken[] = [];
  for (let i = 0; i < rounds; i++) all.push(await measure());
  return all;
}
