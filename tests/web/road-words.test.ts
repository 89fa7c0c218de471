/** What stands in words on and round the map, and what a screen reader is told. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { arrivalWords } from '../../web/road/arrival.ts';
import { alongEdge, boxesAlong, Places } from '../../web/road/labels.ts';
import type { Wish } from '../../web/road/labels.ts';
import { crowds, numbered } from '../../web/road/marks.ts';
import { namesOf } from '../../web/road/names.ts';
import { reachesOf } from '../../web/road/ground.ts';
import { layOut } from '../../web/road/sheet.ts';
import { roadSummary } from '../../web/words/road-summary.ts';
import { elapsedTicks } from '../../web/road/elapsed-ticks.ts';
import { levels, wordTicks } from '../../web/road/ticks.ts';
import { bandWords } from '../../web/road/words.ts';
import { GINGER, SCENES } from '../support/road/scenes.ts';

const SEED = 20261125;
const MINUTE_MS = 60_000;
const NOW_MS = 7_200_000;

const around = (backMin: number, aheadMin: number) => ({
  fromMs: NOW_MS - backMin * MINUTE_MS,
  toMs: NOW_MS + aheadMin * MINUTE_MS,
});
const texts = (ticks: readonly { text: string }[]): string[] => ticks.map(({ text }) => text);

describe('an arrival', () => {
  it('is one time, the least of it where it has no upper end, and no figure where it is far off', () => {
    expect(arrivalWords(460, 350, 560)).toBe('8 min');
    expect(arrivalWords(460, 350, null)).toBe('6 min+');
    expect(arrivalWords(1_500, 350, null)).toBe('more than 20 min');
  });
});

describe('the times along the foot', () => {
  it('are told from now, the unit once on either side', () => {
    expect(texts(wordTicks(around(17, 4), NOW_MS, 3))).toEqual(['15 min ago', '10', '5', 'now', 'in 3 min']);
    expect(texts(wordTicks(around(8, 6), NOW_MS, 2))).toEqual(['6 min ago', '3', 'now', '3', '6 min']);
    expect(texts(wordTicks(around(3, 4), NOW_MS, 1))).toEqual(['2 min ago', 'now', 'in 3 min']);
  });

  it('have the unit ahead of now where there is little room, too', () => {
    const shorts = (ticks: readonly { short: string }[]): string[] => ticks.map(({ short }) => short);
    expect(shorts(wordTicks(around(17, 4), NOW_MS, 3))).toEqual(['15 min ago', '10', '5', 'now', '3 min']);
    expect(shorts(wordTicks(around(8, 6), NOW_MS, 2))).toEqual(['6 min ago', '3', 'now', '3', '6 min']);
  });

  it('are never more than there is room for', () => {
    const minutes = fc.double({ min: 1, max: 700, noNaN: true });
    fc.assert(
      fc.property(minutes, fc.integer({ min: 1, max: 12 }), (backMin, most) => {
        const back = wordTicks(around(backMin, 4), NOW_MS, most).filter(({ atMs }) => atMs < NOW_MS);
        expect(back.length).toBeLessThanOrEqual(most);
      }),
      { seed: SEED },
    );
  });

  it('of a past run are elapsed, at round steps', () => {
    const run = { fromMs: NOW_MS, toMs: NOW_MS + 152 * MINUTE_MS };
    expect(texts(elapsedTicks(run, NOW_MS, 6))).toEqual(['0:00', '0:30', '1:00', '1:30', '2:00', '2:30']);
    const close = { fromMs: NOW_MS + 21 * MINUTE_MS, toMs: NOW_MS + 22 * MINUTE_MS };
    expect(texts(elapsedTicks(close, NOW_MS, 3))).toEqual(['0:21', '0:22']);
  });

  it('of a past run begin with it', () => {
    const before = { fromMs: NOW_MS - 10 * MINUTE_MS, toMs: NOW_MS + 10 * MINUTE_MS };
    expect(texts(elapsedTicks(before, NOW_MS, 4))[0]).toBe('0:00');
  });
});

describe('the temperatures in the gutter', () => {
  const work = GINGER.phases[3]!;
  const cool = GINGER.phases[1]!;

  it('are the bounds that lie on the scale, each once', () => {
    expect(texts(levels(work, [30, 34.5]))).toEqual(['31', '32', '32.5', '34', '30.5']);
    expect(texts(levels(work, [30.6, 33]))).toEqual(['31', '32', '32.5']);
    expect(texts(levels({ ...work, ceilingC: 32 }, [30, 34.5]))).toEqual(['31', '32', '34', '30.5']);
  });

  it('have at most two round ones besides, on a long way', () => {
    expect(texts(levels(cool, [25, 37.5]))).toEqual(['26.5', '27.5', '26', '30', '35']);
    expect(levels({ id: 'x', heading: 'up', bandC: [90, 91] }, [10, 95]).filter(({ rank }) => rank === 9)).toHaveLength(
      2,
    );
  });
});

describe('words along an edge', () => {
  const wish = fc.record({
    at: fc.double({ min: 0, max: 600, noNaN: true }),
    size: fc.double({ min: 5, max: 120, noNaN: true }),
    rank: fc.nat(3),
  });

  it('never touch, never leave it, never stray', () => {
    fc.assert(
      fc.property(fc.array(wish, { maxLength: 12 }), (wishes: Wish[]) => {
        const places = alongEdge(wishes, 0, 600, 10, 25).map((place, i) => ({ place, ...wishes[i]! }));
        const kept = places
          .filter((one): one is typeof one & { place: number } => one.place !== null)
          .toSorted((a, b) => a.place - b.place);
        for (const [i, one] of kept.entries()) {
          expect(one.place - one.size / 2).toBeGreaterThanOrEqual(-1e-6);
          expect(one.place + one.size / 2).toBeLessThanOrEqual(600 + 1e-6);
          const next = kept[i + 1];
          if (next !== undefined)
            expect(next.place - one.place).toBeGreaterThanOrEqual((one.size + next.size) / 2 + 10 - 1e-6);
        }
      }),
      { seed: SEED },
    );
  });

  it('give way to what matters more', () => {
    const wishes: Wish[] = [
      { at: 100, size: 40, rank: 2 },
      { at: 104, size: 40, rank: 0 },
    ];
    expect(alongEdge(wishes, 0, 600, 10, 5)).toEqual([null, 104]);
    expect(alongEdge(wishes, 0, 600, 10, 60)).toEqual([54, 104]);
  });
});

describe('words on the map', () => {
  const box = (x: number, y: number) => ({ x, y, width: 50, height: 20 });

  it('go to the first place that is free', () => {
    const places = new Places({ x: 0, y: 0, width: 300, height: 200 });
    places.take(box(0, 0));
    places.takeLines({ x: 0, y: 90, width: 300, height: 3 });
    expect(places.first([box(40, 0), box(100, 80), box(100, 20)])).toEqual(box(100, 20));
    expect(places.first([box(110, 30), box(260, 150)])).toBeNull();
    expect(places.first([box(200, 80)], true)).toEqual(box(200, 80));
  });

  it('leave a line its place but not its gaps', () => {
    const spots = [
      { x: 0, y: 10 },
      { x: 40, y: 50 },
      { x: 45, y: NaN },
      { x: 200, y: 50 },
      { x: 210, y: 50 },
    ];
    const boxes = boxesAlong(spots, 6);
    expect(boxes.some(({ x, width }) => x < 100 && x + width > 100)).toBe(false);
    expect(Math.min(...boxes.map(({ y }) => y))).toBe(7);
  });

  it('name every bound, with its number where no gutter tells it', () => {
    const model = SCENES['work']!();
    const [reach] = reachesOf(layOut(model, { width: 686, height: 492 }).panels[0]!).slice(-1);
    const words = (told: number[]): string[] => namesOf(model, reach!, new Set(told)).map((name) => name.words);
    expect(words([31, 32, 32.5, 34, 30.5])).toEqual(['Temper lost', 'Ceiling', 'Too cool to dip']);
    expect(words([])).toEqual(['Temper lost 34', 'Ceiling 32.5', 'Too cool to dip 30.5', '31–32']);
  });

  it('call a ceiling before seed is made what it is', () => {
    const model = SCENES['melt']!();
    const [reach] = reachesOf(layOut(model, { width: 686, height: 492 }).panels[0]!);
    expect(namesOf(model, reach!, new Set([52, 46]))[0]!.words).toBe('Scorch ceiling');
  });
});

describe('marks', () => {
  it('are numbered in the order they happened, and only what a person said or did', () => {
    const keyed = numbered([
      { kind: 'note', atMs: 3_000, text: 'third' },
      { kind: 'alarm', atMs: 2_500, text: 'over the ceiling' },
      { kind: 'act', atMs: 1_000, text: 'first' },
      { kind: 'cue', atMs: 1_500, text: 'off the heat' },
      { kind: 'note', atMs: 2_000, text: 'second' },
    ]);
    expect(keyed.map(({ number, mark }) => `${number} ${mark.text}`)).toEqual(['1 first', '2 second', '3 third']);
  });

  it('that crowd are taken together from the left', () => {
    const groups = crowds([{ x: 100 }, { x: 20 }, { x: 60 }, { x: 101 }, { x: 300 }], 80);
    expect(groups.map((group) => group.map(({ x }) => x))).toEqual([[20, 60, 100], [101], [300]]);
  });
});

describe('the summary', () => {
  it('says phase, value against its bounds, and what comes', () => {
    expect(roadSummary(SCENES['cool']!())).toMatch(
      /^Cool, 15 min so far\. 30\.\d °C, 3\.\d over the band\. Band 26\.5–27\.5, floor 26\. 27\.5 °C in 3 to 6 min\. Like this: \d\d\.\d in 3 min, between \d\d\.\d and \d\d\.\d\. Before it: Melt to 48\.\d in 22 min\. Then: Rewarm to 31–32, Work to 31–32\./,
    );
  });

  it('at a choice says both ways, and what doing nothing crosses', () => {
    expect(roadSummary(SCENES['rewarm-fork']!())).toMatch(
      /Off now: 31\.\d in 3 min, between 3\d\.\d and 3\d\.\d\. Left on: over 32\.5 in \d+ (min|s)\./,
    );
    expect(roadSummary(SCENES['cool-fork']!())).toMatch(
      /Off now: 27\.\d in 3 min.* Left in: under 26 in \d+ (min|s)\./,
    );
  });

  it('says that a course ends short of the band', () => {
    const model = SCENES['cool']!();
    const estimate = { ...model.estimate!, etaS: null, etaLowS: null, etaHighS: null, peakC: 28.4 };
    expect(roadSummary({ ...model, estimate })).toContain('Levels off near 28.4, short of 27.5 °C.');
  });

  it('tells nothing ahead from a number that can’t be told ahead from', () => {
    const said = roadSummary(SCENES['work-uncertain']!());
    expect(said).toContain('What comes can’t be told from this reading.');
    expect(said).not.toContain('Like this');
  });

  it('says by how much a bound is crossed', () => {
    expect(roadSummary(SCENES['over-ceiling']!())).toContain('0.3 over the 32.5 ceiling');
    expect(roadSummary(SCENES['off-scale']!())).toContain('36.2 °C, above the 34 at which temper is lost');
  });

  it('never passes an old value off as the present one', () => {
    expect(roadSummary(SCENES['stale']!())).toMatch(/No reading for 78 s; it was 31\.\d °C/);
    expect(roadSummary(SCENES['stale']!())).not.toContain('in about');
  });

  it('says of a run that is over what it was at the end', () => {
    const going = SCENES['work']!();
    expect(roadSummary({ ...going, live: 'over', fan: [] })).toMatch(/\d °C at the end, in the band\./);
  });

  it('says so where nothing has begun', () => {
    expect(roadSummary(SCENES['unbegun']!())).toMatch(/^Melt, not begun\. No reading\. Band 46–49, ceiling 52\./);
  });
});

describe('a figure on the map', () => {
  it('is a band with both ends', () => {
    expect(bandWords([26.5, 27.5])).toBe('26.5–27.5');
  });
});
