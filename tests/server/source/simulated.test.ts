/** The simulated bowl as a source: real time by timers, so the clock here is a fake one that timers and bowl share. */
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { RecordedInput } from '../../../server/core/record/input.ts';
import type { LinkState } from '../../../server/core/show/wire.ts';
import { chance } from '../../../server/source/kitchen/chance.ts';
import { SIMULATED_SOURCE, simulatedSource, workedBowl } from '../../../server/source/simulated.ts';
import { shipped } from '../../support/shipped.ts';

const DARK = shipped('dark');

function listened() {
  const inputs: RecordedInput[] = [];
  const links: LinkState[] = [];
  return {
    inputs,
    links,
    listener: { input: (input: RecordedInput) => inputs.push(input), link: (state: LinkState) => links.push(state) },
    lines: () => inputs.flatMap((input) => (input.kind === 'line' ? [input] : [])),
  };
}

describe('the simulated bowl as a source', () => {
  beforeEach(() => vi.useFakeTimers());
  afterEach(() => vi.useRealTimers());
  const clock = { nowMs: () => Date.now() };

  it('says that it is simulated, and gives two raw lines a second such as a plain thermometer gives', () => {
    const source = simulatedSource({ clock, profile: DARK, seed: 1 });
    const heard = listened();
    source.start(heard.listener);
    vi.advanceTimersByTime(10_000);
    expect(source.simulated).toBe(true);
    expect(heard.links).toEqual([{ state: 'simulated' }]);
    expect(heard.inputs[0]).toMatchObject({ kind: 'link', up: true, source: SIMULATED_SOURCE });
    expect(heard.lines()).toHaveLength(20);
    for (const line of heard.lines()) expect(line.text).toMatch(/^\d\d\.\d\d$/);
    void source.close();
  });

  it('moves within the first half minute', () => {
    const source = simulatedSource({ clock, profile: DARK, seed: 1 });
    const heard = listened();
    source.start(heard.listener);
    vi.advanceTimersByTime(30_000);
    const values = heard.lines().map((line) => Number(line.text));
    expect(values[0]).toBeLessThan(27);
    expect((values.at(-1) ?? 0) - (values[0] ?? 0)).toBeGreaterThan(1);
    void source.close();
  });

  it('stops for good when it is closed, even twice, and never starts again', async () => {
    const source = simulatedSource({ clock, profile: DARK, seed: 1 });
    const heard = listened();
    source.start(heard.listener);
    vi.advanceTimersByTime(2_000);
    await source.close();
    await source.close();
    source.start(heard.listener);
    const before = heard.inputs.length;
    vi.advanceTimersByTime(60_000);
    expect(heard.inputs).toHaveLength(before);
    expect(vi.getTimerCount()).toBe(0);
  });

  it('catches up with the clock after the machine was asleep', () => {
    const source = simulatedSource({ clock, profile: DARK, seed: 1 });
    const heard = listened();
    source.start(heard.listener);
    vi.setSystemTime(Date.now() + 120_000);
    vi.advanceTimersByTime(500);
    expect(Number(heard.lines().at(-1)?.text)).toBeGreaterThan(32);
    void source.close();
  });

  it('begins anew with solid chocolate where a run is chosen for it, and says that the bowl is another one', () => {
    const source = simulatedSource({ clock, profile: DARK, seed: 1 });
    const heard = listened();
    source.start(heard.listener);
    vi.advanceTimersByTime(5 * 60_000);
    expect(Number(heard.lines().at(-1)?.text)).toBeGreaterThan(35);
    const before = heard.inputs.length;
    source.beginAnew?.(shipped('milk'));
    vi.advanceTimersByTime(500);
    expect(heard.inputs.slice(before)).toMatchObject([
      { kind: 'link', up: false },
      { kind: 'link', up: true },
      { kind: 'line' },
    ]);
    expect(Number(heard.lines().at(-1)?.text)).toBeLessThan(27);
    expect(vi.getTimerCount()).toBe(1);
    void source.close();
  });
});

describe('the bowl that is worked behind it', () => {
  it('paces a dark run: melt 6–8 min, cool 6–8 min, rewarm 3–4 min, then work without end inside the band', () => {
    for (const seed of [1, 2, 3]) {
      const bowl = workedBowl(DARK, chance(seed));
      const begun = new Map<string, number>();
      let working = true;
      for (let tick = 0; tick < 2 * 3600 * 2; tick += 1) {
        bowl.tick();
        const { phase, chocolateC } = bowl.truth();
        if (!begun.has(phase)) begun.set(phase, tick / 120);
        if (phase === 'work') working &&= chocolateC > 31 && chocolateC < 32;
      }
      const [melt = 0, cool = 0, rewarm = 0, work = 0] = ['melt', 'cool', 'rewarm', 'work'].map((id) => begun.get(id));
      expect(cool - melt).toBeGreaterThan(6);
      expect(cool - melt).toBeLessThan(8);
      expect(rewarm - cool).toBeGreaterThan(6);
      expect(rewarm - cool).toBeLessThan(8);
      expect(work - rewarm).toBeGreaterThan(2.7);
      expect(work - rewarm).toBeLessThan(4.3);
      expect(working).toBe(true);
    }
  });

  it('works the same bowl from the same seed, and another from another', () => {
    const readings = (seed: number): number[] => {
      const bowl = workedBowl(DARK, chance(seed));
      return Array.from({ length: 2000 }, () => {
        bowl.tick();
        return bowl.readingC();
      });
    };
    expect(readings(7)).toEqual(readings(7));
    expect(readings(7)).not.toEqual(readings(8));
  });
});
