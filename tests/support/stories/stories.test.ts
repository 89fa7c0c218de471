/** The golden stories are in order: they start, go forward, end, and show on the wire what they say. */
import { describe, expect, it } from 'vitest';
import { stories } from './stories.ts';

const ALL = stories();

/** What the thermometer wrote as numbers, with the junk left out. */
function valuesOf(name: string): number[] {
  const story = ALL.find((one) => one.name === name);
  return (story?.inputs ?? [])
    .flatMap((input) => (input.kind === 'line' ? [Number(input.text)] : []))
    .filter((value) => value > 10);
}

describe('the golden stories', () => {
  it('come out the same each time', () => {
    expect(stories()).toEqual(ALL);
  });

  it.each(ALL.map((story) => [story.name, story] as const))(
    '%s starts before its first line, never goes back, ends',
    (_, story) => {
      const kinds = story.inputs.map((input) => input.kind);
      expect(kinds.indexOf('command')).toBeLessThan(kinds.indexOf('line'));
      expect(kinds.at(-1)).toBe('end');
      expect(kinds.filter((kind) => kind === 'end')).toHaveLength(1);
      const times = story.inputs.map((input) => input.atMs);
      expect(times).toEqual(times.toSorted((one, other) => one - other));
      for (const atMs of times) expect(Number.isInteger(atMs)).toBe(true);
      expect(JSON.stringify(story).length).toBeLessThan(400_000);
    },
  );

  it('show what their names say', () => {
    expect(Math.max(...valuesOf('warm-air-gun-on-tip'))).toBeGreaterThan(60);
    expect(valuesOf('power-on-sentinel').filter((value) => value === 85)).toHaveLength(3);
    const dark = valuesOf('clean-dark');
    expect(Math.max(...dark)).toBeGreaterThan(45);
    expect(Math.min(...dark.slice(700))).toBeLessThan(28);
    expect(Math.max(...dark.slice(-300))).toBeLessThan(32.3);
    expect(Math.min(...valuesOf('undershoot').slice(700))).toBeLessThan(26);
    expect(Math.min(...valuesOf('not-cooled-enough').slice(600))).toBeGreaterThan(28);
    expect(Math.max(...valuesOf('overshoot-in-rewarm').slice(1000))).toBeGreaterThan(32.7);
    expect(Math.max(...valuesOf('slow-drift-over-ceiling').slice(1000))).toBeGreaterThan(32.7);
    expect(Math.max(...valuesOf('temper-lost-and-recovered').slice(1000))).toBeGreaterThan(34.3);
  });
});
