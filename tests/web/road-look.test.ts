/** Looking along the road of a run that is going: what follows follows, what is held stays, one step leads back. */
import { describe, expect, test } from 'vitest';
import { ALL, FOLLOW, heldAt, spanOf } from '../../web/road-look.ts';
import { closer, lastMinutes, wider } from '../../web/road-zoom.ts';
import { roadRows } from '../../web/road/rows.ts';
import { layOut } from '../../web/road/sheet.ts';
import { SCENES } from '../support/road/scenes.ts';

const SIZE = { width: 686, height: 492 };
const MIN = 60_000;
const model = SCENES['work']!();
const { nowMs, startedAtMs } = model;
const later = nowMs + 7 * MIN;

const viewAt = (window: typeof FOLLOW, at: number) => layOut({ ...model, window, nowMs: at }, SIZE).panels[0]!.view;

describe('views', () => {
  test('the last minutes slide with now and show what lies ahead', () => {
    for (const minutes of [5, 15]) {
      const view = viewAt(lastMinutes(minutes), nowMs);
      expect(nowMs - view.fromMs).toBeLessThan((minutes + 0.1) * MIN);
      expect(view.toMs).toBeGreaterThan(nowMs);
      const moved = viewAt(lastMinutes(minutes), later).fromMs - view.fromMs;
      expect(Math.abs(moved - 7 * MIN)).toBeLessThanOrEqual(1_000);
    }
  });

  test.each([
    ['closer', closer],
    ['wider', wider],
  ])('%s is held: time that passes and readings that come move nothing', (_, step) => {
    for (const look of [FOLLOW, lastMinutes(5), ALL]) {
      const held = step(look, nowMs, startedAtMs);
      expect(held.kind).toBe('span');
      expect(viewAt(held, later)).toEqual(viewAt(held, nowMs));
    }
  });

  test('closer is half of it, wider twice, about the same middle', () => {
    const held = heldAt(lastMinutes(15), nowMs - 10 * MIN, nowMs, startedAtMs);
    const middle = (look: typeof held): number => {
      const { fromMs, toMs } = spanOf(look, nowMs, startedAtMs);
      return (fromMs + toMs) / 2;
    };
    const length = (look: typeof held): number => {
      const { fromMs, toMs } = spanOf(look, nowMs, startedAtMs);
      return toMs - fromMs;
    };
    expect(length(held)).toBe(15 * MIN);
    expect(length(closer(held, nowMs, startedAtMs))).toBe(7.5 * MIN);
    expect(length(wider(held, nowMs, startedAtMs))).toBe(30 * MIN);
    for (const step of [closer, wider]) expect(middle(step(held, nowMs, startedAtMs))).toBe(nowMs - 10 * MIN);
  });

  test('closer and wider end somewhere', () => {
    const far = (step: typeof closer): number => {
      let look = lastMinutes(15);
      for (let i = 0; i < 40; i++) look = step(look, nowMs, startedAtMs);
      const { fromMs, toMs } = spanOf(look, nowMs, startedAtMs);
      return toMs - fromMs;
    };
    expect(far(closer)).toBe(MIN);
    expect(far(wider)).toBe(16 * 60 * MIN);
  });
});

describe('the road in numbers', () => {
  test('rows are whole minutes with the curve’s own extremes, and then the forecast', () => {
    const rows = roadRows(model, spanOf(lastMinutes(15), nowMs, startedAtMs));
    const was = rows.filter(({ isForecast }) => !isForecast);
    expect(was.length).toBeLessThanOrEqual(16);
    for (const { fromMs, toMs, lowC, highC, endC } of was) {
      expect((fromMs - startedAtMs) % MIN).toBe(0);
      const seen = model.curve.estimateExtremes(fromMs, toMs);
      expect([lowC, highC]).toEqual([seen.low, seen.high]);
      expect(endC).toBe(model.curve.lastEstimateIn(fromMs, toMs));
    }
    const ahead = roadRows(model, spanOf(FOLLOW, nowMs, startedAtMs)).filter(({ isForecast }) => isForecast);
    expect(ahead.map(({ toMs }) => (toMs - nowMs) / MIN)).toEqual([1, 2, 3]);
    expect(ahead[0]!.endC).toBe(model.fan.find(({ inS }) => inS === 60)!.medianC);
  });

  test('a gap is a gap in them too', () => {
    const gap = SCENES['gap']!();
    const rows = roadRows(gap, spanOf(lastMinutes(15), gap.nowMs, gap.startedAtMs));
    expect(rows.some(({ lowC, endC }) => lowC === null && endC === null)).toBe(true);
  });
});
