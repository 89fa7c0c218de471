/** What the page weighs, gzipped, as built: what stands before the road is there, and all that a page beside the bowl loads. And what it carries. */
import { beforeAll, describe, expect, test } from 'vitest';
import { broughtAtOnce, broughtBy, buildPieces, gzipped, modulesOf, type Piece } from './support/bundle.ts';

/** Most that number, sentence, alarm and buttons may take, bytes (ours: what it is, with a little room; its goal was 45 kB). */
const WITHOUT_CHART = 30_000;
/** … our own with the road, without the charting library (goal of the page, set with it). */
const OWN_AT_BOWL = 45_000;
/** … and with both (ours, as above; its goal was 130 kB). */
const WITH_CHART = 87_000;

const LIBRARY = /\/node_modules\/(?:chart\.js|@kurkle)\//;
/** What is there for past runs, and for files of them, alone. */
const PAST = [
  ...['runs', 'past', 'bin', 'compare', 'hand-over', 'bring-in', 'judged'].map((page) => `pages/${page}.tsx`),
  ...['playback', 'cards', 'compare', 'outcome', 'run-list', 'judgements', 'incoming', 'handed-over'].map(
    (it) => `${it}.ts`,
  ),
  ...['compare-names', 'stored-curve', 'side-by-side', 'use-asked'].map((it) => `${it}.ts`),
];

let pieces: Piece[];
let atOnce: Piece[];
let atBowl: Piece[];

beforeAll(async () => {
  pieces = await buildPieces();
  atOnce = broughtAtOnce(pieces);
  const road = pieces.filter((piece) => modulesOf(piece).some((id) => id.endsWith('/web/road/road.ts')));
  atBowl = broughtBy(pieces, [...atOnce, ...road]);
});

describe('the script of the page', () => {
  test(`takes at most ${WITHOUT_CHART / 1000} kB for all that stands without the road`, () => {
    expect(atOnce.flatMap(modulesOf).some((id) => id.endsWith('/web/pages/run.tsx'))).toBe(true);
    expect(gzipped(atOnce)).toBeLessThanOrEqual(WITHOUT_CHART);
  });

  test(`takes at most ${OWN_AT_BOWL / 1000} kB of our own beside a bowl, road included`, () => {
    const own = atBowl.filter((piece) => !modulesOf(piece).some((id) => LIBRARY.test(id)));
    expect(own.flatMap(modulesOf).some((id) => id.endsWith('/web/road/road.ts'))).toBe(true);
    expect(gzipped(own)).toBeLessThanOrEqual(OWN_AT_BOWL);
  });

  test(`takes at most ${WITH_CHART / 1000} kB beside a bowl, road and chart included`, () => {
    expect(atBowl.flatMap(modulesOf).some((id) => LIBRARY.test(id))).toBe(true);
    expect(gzipped(atBowl)).toBeLessThanOrEqual(WITH_CHART);
  });

  test('has the charting library in a piece of its own, which waits for the road', () => {
    const mixed = pieces.filter((piece) => {
      const ids = modulesOf(piece).filter((id) => id.includes('/web/') || LIBRARY.test(id));
      return ids.some((id) => LIBRARY.test(id)) && !ids.every((id) => LIBRARY.test(id));
    });
    expect(mixed.map(({ fileName }) => fileName)).toEqual([]);
    expect(atOnce.flatMap(modulesOf).filter((id) => LIBRARY.test(id))).toEqual([]);
  });

  test('brings to a run that goes on neither the start nor what is asked for by a tap', () => {
    const waits = ['start', 'en/idle', 'cautions', 'log-names', 'library', 'more', 'notes', 'looks', 'sound-test'].map(
      (it) => `words/${it}.ts`,
    );
    waits.push('pages/start.tsx', 'noted.ts', 'fetched.ts', 'sound/voices.ts');
    waits.push(
      'road/envelope.ts',
      'road/other-views.ts',
      'road/unfolding.ts',
      'road/numbers.ts',
      'words/en/road-summary.ts',
    );
    waits.push('words/en/alarm-words.ts', 'words/en/link.ts', 'words/en/run-strips.ts', 'controls/run-strips.tsx');
    const controls = ['standing-sheet', 'more-sheet', 'read-out', 'sheet', 'lock-bar', 'look-buttons', 'sound-test'];
    waits.push(...controls.map((it) => `controls/${it}.tsx`));
    const isThere = (some: readonly Piece[], name: string): boolean =>
      some.flatMap(modulesOf).some((id) => id.endsWith(`/web/${name}`));
    expect(waits.filter((name) => isThere(pieces, name))).toEqual(waits);
    expect(waits.filter((name) => isThere(atBowl, name))).toEqual([]);
  });

  test('brings what the bowl can wait for, the road aside, in one piece more', () => {
    const names = ['at-hand.ts', 'arrival.ts', 'pages/start.tsx'];
    names.push(
      ...['note-sheet', 'note-when', 'noted-list', 'standing-sheet', 'more-sheet'].map((it) => `controls/${it}.tsx`),
    );
    const holding = (name: string): Piece[] =>
      pieces.filter((piece) => modulesOf(piece).some((id) => id.endsWith(`/web/${name}`)));
    const found = new Set(names.flatMap(holding));
    expect([...found].map(({ name }) => name)).toEqual(['at-hand']);
    const brought = broughtBy(pieces, [...found]).flatMap(modulesOf);
    expect(brought.filter((id) => id.endsWith('/web/road/road.ts'))).toEqual([]);
  });

  test('brings nothing of past runs to the bowl', () => {
    const isIn = (some: readonly Piece[]) => {
      const ids = some.flatMap(modulesOf);
      return (name: string): boolean => ids.some((id) => id.endsWith(`/web/${name}`));
    };
    expect(PAST.filter(isIn(pieces))).toEqual(PAST);
    expect(PAST.filter(isIn(atBowl))).toEqual([]);
  });

  test('carries of the core show/ alone', () => {
    const carried = pieces.flatMap(modulesOf);
    const ofServer = carried.filter((id) => id.includes('/server/')).map((id) => id.slice(id.indexOf('/server/') + 1));
    expect(carried.some((id) => id.endsWith('/web/main.tsx'))).toBe(true);
    expect(ofServer.filter((path) => path.startsWith('server/core/show/')).length).toBeGreaterThan(0);
    expect(ofServer.filter((path) => !path.startsWith('server/core/show/'))).toEqual([]);
  });
});
