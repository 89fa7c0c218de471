/** The words for the way ahead keep their form: measured on recorded stories, and rule by rule. */
import { describe, expect, test } from 'vitest';
import { estimateAt, fanAt, initialState, step } from '../../server/core/engine.ts';
import type { Estimate } from '../../server/core/bowl/estimate.ts';
import { ENGINE_VERSION } from '../../server/core/record/run.ts';
import { steadied } from '../../web/steadied.ts';
import type { Steadied } from '../../web/steadied.ts';
import { isRateUnknown, wayForm } from '../../web/way-form.ts';
import { readTrace } from '../support/fixtures.ts';
import { DARK, nowAt } from '../support/scenes.ts';

const cool = DARK.phases.find(({ heading }) => heading === 'down')!;

function falling(more: Partial<Estimate>): Estimate {
  return { ...nowAt({ min: 36 }).estimate!, tempC: 34, rateCPerMin: -1, peakC: 15, ...more };
}
const about = falling({ etaS: 300, etaLowS: 260, etaHighS: 340 });
const within = falling({ etaS: 300, etaLowS: 150, etaHighS: 500 });
const unsure = falling({ etaS: 300, etaLowS: 60, etaHighS: 500 });
const there = falling({ tempC: 27, etaS: 0, etaLowS: 0, etaHighS: 0 });

/** The forms said, of these estimates a second apart. */
function saidOf(estimates: readonly Estimate[], phases = [cool]) {
  let held: Steadied | null = null;
  return estimates.map((estimate, i) => {
    held = steadied(held, phases[Math.min(i, phases.length - 1)]!, estimate, i * 1000);
    return held;
  });
}

const times = (count: number, ...estimates: Estimate[]): Estimate[] =>
  Array.from({ length: count }, (_, i) => estimates[i % estimates.length]!);

describe('one form is held', () => {
  test('while others come and go within it', () => {
    const said = saidOf([within, ...times(60, about, about, unsure, within)]);
    expect(new Set(said.map(({ form }) => form))).toEqual(new Set(['within']));
  });

  test('until it has been wrong for 10 s on end, for 20 s where the new one claims more', () => {
    const less = saidOf([within, ...times(30, unsure)]).map(({ form }) => form);
    expect(less.indexOf('unsure')).toBe(11);
    const more = saidOf([within, ...times(30, about)]).map(({ form }) => form);
    expect(more.indexOf('about')).toBe(21);
  });

  test('but not at the arrival, nor in another phase', () => {
    expect(saidOf([within, there]).at(-1)!.form).toBe('there');
    const rewarm = DARK.phases.at(-2)!;
    expect(saidOf([within, falling({ tempC: 29, etaS: null })], [cool, rewarm]).at(-1)!.form).toBe('away');
  });

  test('so that a bowl held near the edge of its band is not called for by turns', () => {
    const work = DARK.phases.at(-1)!;
    const near = { tempC: work.bandC[0] + 0.3, etaS: 0, etaLowS: 0, etaHighS: 0 };
    const drifting = falling({ ...near, rateCPerMin: -0.08 });
    const calm = falling({ ...near, rateCPerMin: -0.03 });
    const turns = saidOf([calm, ...times(60, drifting, calm, drifting)], [work]);
    expect(new Set(turns.map(({ form }) => form)).size).toBe(1);
    expect(saidOf([calm, ...times(30, drifting)], [work]).at(-1)!.form).toBe('leaving');
  });

  test('with figures of the same form, minutes anew every 5 s and seconds at once', () => {
    const minutes = Array.from({ length: 8 }, (_, i) => ({ ...about, etaS: 300 - i }));
    expect(saidOf(minutes).map(({ estimate }) => estimate.etaS)).toEqual([300, 300, 300, 300, 300, 295, 295, 295]);
    const seconds = [90, 89, 88].map((etaS) => falling({ etaS, etaLowS: etaS, etaHighS: etaS }));
    expect(saidOf(seconds).map(({ estimate }) => estimate.etaS)).toEqual([90, 89, 88]);
  });
});

describe('a rate that is not known yet', () => {
  const wide = [{ inS: 30, lowC: 32, medianC: 33.5, highC: 35 }];

  test('lets nothing be told of where it goes but an arrival', () => {
    const still = { rateCPerMin: 0, tempC: 34 };
    const told = [falling({}), falling(still), falling({ rateCPerMin: 1 }), falling({ peakC: 30 })];
    expect(told.map((estimate) => wayForm(cool, estimate))).toEqual(['far', 'still', 'away', 'short']);
    expect(new Set(told.map((estimate) => wayForm(cool, estimate, true)))).toEqual(new Set(['unsure']));
    expect([about, there].map((estimate) => wayForm(cool, estimate, true))).toEqual(['about', 'there']);
  });

  test('nor is a level told of that lies behind it', () => {
    expect(wayForm(cool, falling({ peakC: 34.2 }))).toBe('unsure');
  });

  test('is one whose fan is wide and on both sides; a stored run has no fan, and its rate is known', () => {
    expect(isRateUnknown(falling({}), wide)).toBe(true);
    expect(isRateUnknown(falling({ tempC: 35.1 }), wide)).toBe(false);
    expect(isRateUnknown(falling({}), [{ inS: 30, lowC: 33.8, medianC: 34, highC: 34.2 }])).toBe(false);
    expect(isRateUnknown(falling({}), [])).toBe(false);
  });

  test.each(['clean-dark', 'clean-milk', 'clean-white', 'started-tempered'])('%s: begins with one', (story) => {
    const { header, inputs } = readTrace(story);
    let state = initialState({ ...header, engine: ENGINE_VERSION });
    const told: string[] = [];
    let startMs: number | null = null;
    for (const input of inputs) {
      const turn = step(state, input);
      state = turn.state;
      startMs ??= turn.events.find(({ kind }) => kind === 'run-started')?.atMs ?? null;
      if (startMs === null) continue;
      if (input.atMs - startMs > 15_000) break;
      const estimate = estimateAt(state, input.atMs);
      const phase = header.profile.phases.find(({ id }) => id === estimate?.phase);
      if (estimate === null || phase === undefined) continue;
      const form = wayForm(phase, estimate, isRateUnknown(estimate, fanAt(state, input.atMs)));
      const { tempC, peakC, rateCPerMin } = estimate;
      told.push(form === 'short' && (peakC! - tempC) * rateCPerMin < 0 ? 'behind' : form);
    }
    expect(told.length).toBeGreaterThan(2);
    expect(told.slice(0, 3).filter((form) => form !== 'unsure' && form !== 'there')).toEqual([]);
    expect(told).not.toContain('behind');
    expect(told).not.toContain('still');
  });
});

/** How often the form changes in a story while a phase is walked to, twice a second, as reckoned and as said. */
function changesIn(story: string): { readonly reckoned: number; readonly said: number } {
  const { header, inputs } = readTrace(story);
  let state = initialState({ ...header, engine: ENGINE_VERSION });
  const counts = { reckoned: 0, said: 0 };
  let last = { phase: '', form: '' };
  let held: Steadied | null = null;
  let lookedAtMs = -Infinity;
  for (const input of inputs) {
    state = step(state, input).state;
    const estimate = estimateAt(state, input.atMs);
    const phase = header.profile.phases.find(({ id }) => id === estimate?.phase);
    if (estimate === null || phase === undefined || phase.heading === 'hold' || input.atMs - lookedAtMs < 500) continue;
    lookedAtMs = input.atMs;
    const form = wayForm(phase, estimate);
    if (last.phase === phase.id && last.form !== form) counts.reckoned++;
    last = { phase: phase.id, form };
    const before: Steadied | null = held;
    held = steadied(before, phase, estimate, input.atMs);
    if (before?.phase === phase.id && before.form !== held.form) counts.said++;
  }
  return counts;
}

test.each(['clean-dark', 'clean-milk', 'clean-white'])('%s: what is said changes its form far less often', (story) => {
  const { reckoned, said } = changesIn(story);
  expect(said).toBeGreaterThan(0);
  expect(said).toBeLessThanOrEqual(reckoned / 2);
});
