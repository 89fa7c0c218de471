/** Where a moment stands along the unfolded road, and which one stands there: the same as on the map itself. */
import { describe, expect, it } from 'vitest';
import { stretches } from '../../web/road/panels.ts';
import { layOut, panelOf, xAt } from '../../web/road/sheet.ts';
import { alongAt, momentAlong, sharesOf } from '../../web/road/unfolded.ts';
import { SCENES } from '../support/road/scenes.ts';

const model = SCENES['playback']!();
const stays = stretches(model);
const [startMs, endMs] = [stays[0]!.fromMs, stays.at(-1)!.toMs];
const MOMENTS = [0, 0.03, 0.2, 0.31, 0.5, 0.77, 1].map((share) => startMs + share * (endMs - startMs));

describe('the unfolded road', () => {
  it('gives each phase a share of the width, and none less than can be read', () => {
    const shares = sharesOf(stays);
    expect(shares.reduce((sum, share) => sum + share, 0)).toBeCloseTo(1, 10);
    expect(Math.min(...shares)).toBeGreaterThanOrEqual(0.6 / stays.length);
  });

  it.each(MOMENTS)('has the moment %d along it where the map has it', (atMs) => {
    const sheet = layOut(model, { width: 900, height: 340 });
    const x = xAt(panelOf(sheet, atMs), atMs);
    expect(alongAt(stays, atMs)).toBeCloseTo((x - sheet.plot.x) / sheet.plot.width, 6);
    expect(momentAlong(stays, alongAt(stays, atMs))).toBeCloseTo(atMs, 3);
  });

  it('ends where the run does, whatever is asked for', () => {
    expect(alongAt(stays, startMs - 1e6)).toBe(0);
    expect(alongAt(stays, endMs + 1e6)).toBeCloseTo(1, 10);
    expect(momentAlong(stays, 1)).toBe(endMs);
  });

  it('stands at its end where no time has passed', () => {
    const moment = [{ fromMs: 5, toMs: 5 }];
    expect(alongAt(moment, 5)).toBe(1);
    expect(momentAlong(moment, 0.4)).toBe(5);
  });

  it('keeps the head whole at either end', () => {
    const sheet = layOut(model, { width: 900, height: 340 });
    const reach = sheet.metrics.ringR + sheet.metrics.ringW / 2 + 3;
    expect(sheet.plot.x).toBeGreaterThanOrEqual(reach);
    expect(900 - sheet.plot.x - sheet.plot.width).toBeGreaterThanOrEqual(reach);
  });
});
