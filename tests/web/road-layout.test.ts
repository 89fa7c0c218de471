/** How the map is laid out, without a canvas: panels, folds, scales, times. */
import { describe, expect, it } from 'vitest';
import type { Phase } from '../../server/core/record/profile.ts';
import type { WireReading } from '../../server/core/show/wire.ts';
import { Curve } from '../../web/curve.ts';
import { metricsFor } from '../../web/road/metrics.ts';
import type { RoadModel } from '../../web/road/model.ts';
import { followRange, holdRange } from '../../web/road/range.ts';
import { layOut, momentAt, panelOf, xAt, yAt } from '../../web/road/sheet.ts';
import type { Sheet } from '../../web/road/sheet.ts';
import { panelsAt, stretches } from '../../web/road/panels.ts';
import { traceOf as widthsTraceOf } from '../../web/road/trace.ts';
import { GINGER, SCENES, START_MS } from '../support/road/scenes.ts';

const TABLET = { width: 686, height: 492 };
const PHONE = { width: 390, height: 364 };
const MINUTE_MS = 60_000;

const scene = (name: string): RoadModel => SCENES[name]!();
const traceOf = (model: RoadModel, sheet: Sheet) => widthsTraceOf(model, sheet, { reading: 2, estimate: 6 });
/** Hours of calm work in one phase, one reading of them half a degree over the rest. */
function shift(hours: number): { model: RoadModel; sheet: Sheet } {
  const curve = new Curve();
  const readings = Array.from({ length: hours * 3600 }, (_, s): WireReading => {
    const valueC = s === 17_171 ? 33.5 : 31.5 + 0.25 * Math.sin(s);
    return [START_MS + s * 1000, valueC, 0, valueC];
  });
  curve.addReadings(readings);
  const nowMs = readings.at(-1)![0];
  const phases = [{ phase: 'work', enteredAtMs: START_MS, leftAtMs: null }];
  const model: RoadModel = { ...scene('all'), live: 'live', curve, phases, nowMs };
  return { model, sheet: layOut(model, TABLET) };
}
const sheetOf = (name: string, size = TABLET) => layOut(scene(name), size);

describe('the panels', () => {
  it('fold what has been at the left, what is to come at the right, around the present phase', () => {
    const { past, open, coming } = panelsAt(scene('cool'), scene('cool').nowMs);
    expect(past.map(({ phase }) => phase.id)).toEqual(['melt']);
    expect(open.phase.id).toBe('cool');
    expect(coming.map(({ id }) => id)).toEqual(['rewarm', 'work']);
  });

  it('show a phase twice that was gone through twice', () => {
    const at = (minute: number): number => START_MS + minute * MINUTE_MS;
    const phases = [
      { phase: 'melt', enteredAtMs: at(0), leftAtMs: at(20) },
      { phase: 'cool', enteredAtMs: at(20), leftAtMs: at(30) },
      { phase: 'melt', enteredAtMs: at(30), leftAtMs: null },
    ];
    const model = { ...scene('cool'), phases };
    const { past, open, coming } = panelsAt(model, model.nowMs);
    expect(past.map(({ phase }) => phase.id)).toEqual(['melt', 'cool']);
    expect(open.fromMs).toBe(at(30));
    expect(coming.map(({ id }) => id)).toEqual(['cool', 'rewarm', 'work']);
  });

  it('lie open at the first phase before a run has begun', () => {
    expect(panelsAt(scene('unbegun'), START_MS).open.phase.id).toBe('melt');
  });

  it('leave out a phase that the profile does not have', () => {
    const model = { ...scene('cool'), phases: [{ phase: 'caramelise', enteredAtMs: START_MS, leftAtMs: null }] };
    expect(stretches(model)).toEqual([]);
    expect(layOut(model, TABLET).open.phase.id).toBe('melt');
  });

  it('open, in a held view, at the phase in its middle', () => {
    expect(sheetOf('held').open.phase.id).toBe('rewarm');
    expect(sheetOf('held').panels[0]!.stretches.map(({ phase }) => phase.id)).toEqual(['cool', 'rewarm', 'work']);
  });
});

describe('the folds', () => {
  it('take no room where the profile has one phase', () => {
    const sheet = sheetOf('one-phase');
    expect(sheet.folds).toEqual([]);
    expect(sheet.plot.x + sheet.plot.width).toBe(TABLET.width);
  });

  it('share one fold where there are too many', () => {
    expect(sheetOf('six-first').folds.map((fold) => fold.kind)).toEqual(['coming', 'more']);
    const [more, ...rest] = sheetOf('six-last').folds;
    expect(more).toMatchObject({ kind: 'more', count: 3 });
    expect(rest.map((fold) => fold.kind)).toEqual(['past', 'past']);
  });

  it('are one on either side of a phone', () => {
    expect(sheetOf('cool', PHONE).folds.map((fold) => fold.kind)).toEqual(['past', 'coming']);
  });

  it('give way to the bowl in an alarm', () => {
    expect(sheetOf('over-ceiling').folds).toEqual([]);
  });

  it.each(Object.keys(SCENES))('leave the open panel of %s more than half of the road', (name) => {
    for (const size of [TABLET, PHONE, { width: 320, height: 300 }, { width: 1400, height: 900 }])
      expect(sheetOf(name, size).plot.width).toBeGreaterThan(size.width / 2);
  });

  it.each(Object.keys(SCENES))('and panels of %s neither overlap nor leave the box', (name) => {
    const sheet = sheetOf(name);
    const boxes = [...sheet.folds.map(({ panel }) => panel.box), ...sheet.panels.map(({ box }) => box)].toSorted(
      (a, b) => a.x - b.x,
    );
    boxes.forEach((box, i) => {
      const next = boxes[i + 1]?.x ?? TABLET.width;
      expect(box.x).toBeGreaterThanOrEqual(0);
      expect(box.x + box.width).toBeLessThanOrEqual(next + 1e-6);
    });
  });
});

describe('the scale', () => {
  const work = GINGER.phases[3]!;

  it('of a working panel gives the band at least a fifth of the height, whatever the bounds', () => {
    const wide: Phase[] = [
      work,
      { ...work, lostAboveC: 40 },
      { ...work, floorC: 20, lostAboveC: 40 },
      { ...work, ceilingC: 36, floorC: 20 },
      { id: 'dip', heading: 'hold', bandC: [29, 29.4] },
    ];
    for (const phase of wide) {
      const [lowC, highC] = holdRange(phase);
      expect((phase.bandC[1] - phase.bandC[0]) / (highC - lowC)).toBeGreaterThanOrEqual(0.2 - 1e-9);
      expect(lowC).toBeLessThan(phase.bandC[0]);
      expect(highC).toBeGreaterThan(phase.bandC[1]);
    }
  });

  it('of a working panel holds floor, ceiling and lost line where they fit', () => {
    expect(holdRange(work)).toEqual([30, 35]);
  });

  it('never breathes: one noisy evening has only a handful of scales', () => {
    const model = scene('playback');
    const seen: string[] = [];
    for (let minute = 0; minute < 152; minute += 0.25) {
      const now = {
        ...model,
        live: 'playback' as const,
        window: { kind: 'follow' as const },
        nowMs: START_MS + minute * MINUTE_MS,
      };
      const { open } = panelsAt(now, now.nowMs);
      const key = `${open.phase.id} ${followRange(now, open).join(' ')}`;
      if (seen.at(-1) !== key) seen.push(key);
    }
    expect(seen.map((key) => key.split(' ')[0])).toEqual(['melt', 'melt', 'cool', 'cool', 'rewarm', 'rewarm', 'work']);
  });

  it('shows the whole way until the near edge is within reach, then the last of it', () => {
    expect(followRange(scene('cool-early'), sheetOf('cool-early').open)).toEqual([25, 50]);
    expect(followRange(scene('cool'), sheetOf('cool').open)).toEqual([25, 37.5]);
  });

  it('holds the head of the trace wherever a way leads', () => {
    for (const name of ['melt-early', 'melt', 'cool-early', 'cool', 'rewarm-early', 'rewarm-fork']) {
      const model = scene(name);
      const [lowC, highC] = followRange(model, sheetOf(name).open);
      expect(model.estimate!.tempC).toBeGreaterThan(lowC);
      expect(model.estimate!.tempC).toBeLessThan(highC);
    }
  });

  it('of an overview holds the highest and lowest of each phase', () => {
    const model = scene('playback');
    for (const panel of sheetOf('playback').panels) {
      const { low, high } = model.curve.estimateExtremes(panel.view.fromMs, panel.view.toMs);
      expect(low).toBeGreaterThanOrEqual(panel.range[0]);
      expect(high).toBeLessThanOrEqual(panel.range[1]);
    }
  });

  it('has a way to draw before anything has been read', () => {
    const model = { ...scene('unbegun'), curve: new Curve() };
    const [lowC, highC] = followRange(model, panelsAt(model, model.nowMs).open);
    expect(lowC).toBeLessThan(46);
    expect(highC).toBeGreaterThan(52);
  });
});

describe('the time shown', () => {
  it.each([
    ['cool', 8, 6],
    ['rewarm-fork', 3, 4],
    ['work', 17, 4],
  ])('in %s is %i minutes back and %i ahead', (name, back, ahead) => {
    const model = scene(name);
    const { view } = sheetOf(name).panels[0]!;
    expect(Math.abs(model.nowMs - view.fromMs - back * MINUTE_MS)).toBeLessThan(1_000);
    expect(Math.abs(view.toMs - model.nowMs - ahead * MINUTE_MS)).toBeLessThan(1_000);
  });

  it('slides in whole steps and stands still between them', () => {
    const model = scene('work');
    const at = (ms: number, slideMs: number): number =>
      layOut({ ...model, nowMs: model.nowMs + ms }, TABLET, slideMs).panels[0]!.view.fromMs;
    expect(at(900, 1_000)).toBe(at(0, 1_000));
    expect(at(1_000, 1_000)).toBe(at(0, 1_000) + 1_000);
    expect(at(4_900, 5_000)).toBe(at(0, 5_000));
  });

  it('is what a held view asks for', () => {
    const { view } = sheetOf('held').panels[0]!;
    expect([view.fromMs, view.toMs]).toEqual([START_MS + 38 * MINUTE_MS, START_MS + 58 * MINUTE_MS]);
  });

  it('of an overview runs through every phase without a gap', () => {
    const { panels } = sheetOf('playback');
    expect(panels.map(({ stretches: [stretch] }) => stretch!.phase.id)).toEqual(['melt', 'cool', 'rewarm', 'work']);
    panels.slice(1).forEach((panel, i) => expect(panel.view.fromMs).toBe(panels[i]!.view.toMs));
    expect(panels.at(-1)!.view.toMs).toBe(START_MS + 152 * MINUTE_MS);
  });
});

describe('a place on the map', () => {
  it('leads back to its moment', () => {
    for (const name of ['work', 'playback']) {
      const sheet = sheetOf(name);
      for (const share of [0.05, 0.3, 0.71, 0.99]) {
        const x = sheet.plot.x + share * sheet.plot.width;
        const atMs = momentAt(sheet, x);
        expect(xAt(panelOf(sheet, atMs), atMs)).toBeCloseTo(x, 6);
      }
    }
  });

  it('has up for hot, inside the paper', () => {
    for (const panel of [...sheetOf('playback').panels, ...sheetOf('cool').folds.map((fold) => fold.panel)]) {
      const x = panel.box.x + panel.box.width / 3;
      const [lowC, highC] = panel.range;
      expect(yAt(panel, highC, x)).toBeGreaterThanOrEqual(panel.box.y);
      expect(yAt(panel, lowC, x)).toBeLessThanOrEqual(panel.box.y + panel.box.height);
      expect(yAt(panel, highC, x)).toBeLessThan(yAt(panel, lowC, x));
    }
  });
});

describe('the trace on the map', () => {
  it('has no more than two points per pixel', () => {
    for (const name of Object.keys(SCENES)) {
      const sheet = sheetOf(name);
      expect(traceOf(scene(name), sheet).estimate.length).toBeLessThanOrEqual(2 * sheet.plot.width + 20);
    }
  });

  it('has fewer where its line is wider than they are apart, and still every peak', () => {
    const { model, sheet } = shift(12);
    const { estimate, reading } = widthsTraceOf(model, sheet, { reading: 0, estimate: 6 });
    expect(reading).toEqual([]);
    expect(estimate.length).toBeLessThanOrEqual((2 * sheet.plot.width) / 3 + 20);
    expect(Math.max(...estimate.map(({ valueC }) => valueC).filter((valueC) => !Number.isNaN(valueC)))).toBe(33.5);
  });

  it('lies on an overview that stands still until it has grown by some pixels', () => {
    const { model, sheet } = shift(12);
    const [later, grown] = [1, 600].map((s) => layOut({ ...model, nowMs: model.nowMs + s * 1000 }, TABLET));
    expect(later!.panels).toEqual(sheet.panels);
    expect(grown!.panels).not.toEqual(sheet.panels);
    expect(sheet.panels.at(-1)!.view.toMs).toBeGreaterThanOrEqual(model.nowMs);
  });

  it('ends at the head, which stands at now', () => {
    const model = scene('work');
    const last = traceOf(model, sheetOf('work')).estimate.at(-1)!;
    expect(last).toMatchObject({ atMs: model.nowMs, valueC: model.estimate!.tempC });
  });

  it('ends at the last good reading when that is old', () => {
    const model = scene('stale');
    expect(traceOf(model, sheetOf('stale')).estimate.at(-1)!.atMs).toBe(model.curve.lastAtMs());
  });

  it('shows nothing that playback has not come to, but for the overview', () => {
    const overview = scene('playback');
    const following: RoadModel = { ...overview, window: { kind: 'follow' } };
    const newest = (model: RoadModel): number =>
      Math.max(...traceOf(model, layOut(model, TABLET)).estimate.map(({ atMs }) => atMs));
    expect(newest(following)).toBeLessThanOrEqual(following.nowMs);
    expect(newest(overview)).toBeGreaterThan(overview.nowMs);
  });
});

describe('the sizes', () => {
  it('grow on a wall, never shrink below those of a tablet, and turn to those of a phone', () => {
    expect(metricsFor({ width: 1300, height: 900 }).text.label).toBeGreaterThan(metricsFor(TABLET).text.label);
    expect(metricsFor({ width: 560, height: 300 }).text.label).toBe(metricsFor(TABLET).text.label);
    expect(metricsFor(PHONE).narrow).toBe(true);
    expect(metricsFor({ width: 350, height: 176 }).railH).toBe(0);
  });
});
