/** The profiles that ship and their schema: the files an author copies. What a profile's numbers should be is in external/. */
import { readdirSync, readFileSync } from 'node:fs';
import { Ajv } from 'ajv';
import { describe, expect, test } from 'vitest';
import { nearEdgeC } from '../server/core/show/course.ts';
import { profileFromJson } from '../server/core/record/profile-file.ts';
import { shipped } from './support/shipped.ts';

const FOLDER = new URL('../profiles/', import.meta.url);
const IDS = ['dark', 'milk', 'white'] as const;

function textOf(name: string): string {
  return readFileSync(new URL(name, FOLDER), 'utf8');
}

const fitsSchema = new Ajv({ allErrors: true }).compile(JSON.parse(textOf('profile.schema.json')) as object);

test('the folder holds the three profiles, their schema and their explanation, and nothing else', () => {
  expect(readdirSync(FOLDER).sort()).toEqual(
    ['README.md', ...IDS.map((id) => `${id}.json`), 'profile.schema.json'].sort(),
  );
});

describe.each(IDS)('%s.json', (id) => {
  const profile = shipped(id);

  test('is named after its id and fits the schema', () => {
    expect(profile.id).toBe(id);
    expect(fitsSchema(profile), JSON.stringify(fitsSchema.errors)).toBe(true);
  });

  test('melts, cools, rewarms and works, in this order', () => {
    expect(profile.phases.map((phase) => [phase.id, phase.heading])).toEqual([
      ['melt', 'up'],
      ['cool', 'down'],
      ['rewarm', 'up'],
      ['work', 'hold'],
    ]);
  });

  test('gives a source for every number and for the way back from lost', () => {
    const numbers = profile.phases.flatMap((phase) =>
      Object.keys(phase)
        .filter((key) => /C$|S$/.test(key))
        .map((key) => `phases.${phase.id}.${key}`),
    );
    expect(Object.keys(profile.sources ?? {}).sort()).toEqual([...numbers, 'onLost'].sort());
  });

  test('says that the bag wins and that it is for cooling to the low point, not for seeding', () => {
    expect(profile.source).toMatch(/bag/);
    expect(profile.source).toContain('For cooling to the low point, not for seeding.');
  });

  test('stays in the seeding band for some minutes and goes back to it when temper is lost', () => {
    const cool = profile.phases[1]!;
    expect(cool.holdS).toBeGreaterThanOrEqual(120);
    expect(profile.onLost).toBe(cool.id);
  });

  test('leaves the work band a degree or more under lost, in rewarm as in work', () => {
    const [, cool, rewarm, work] = profile.phases;
    for (const phase of [rewarm!, work!]) {
      expect(phase.bandC).toEqual(work!.bandC);
      expect(phase.lostAboveC! - phase.ceilingC!).toBeGreaterThanOrEqual(1);
    }
    expect(nearEdgeC(rewarm!) - nearEdgeC(cool!)).toBeGreaterThan(1);
  });

  test('has each of its numbers in the table of the README', () => {
    const column = { dark: 1, milk: 2, white: 3 }[id];
    const cells = textOf('README.md')
      .split('\n')
      .filter((line) => /^\| (melt|cool|rewarm and work|work|temper lost)\b.*(ours|practice|textbook|A)/.test(line))
      .map((line) => line.split('|').map((cell) => cell.trim())[column + 1]!);
    const [melt, cool, , work] = profile.phases;
    const wanted = [melt!.bandC, melt!.ceilingC, melt!.holdS, cool!.bandC, cool!.floorC, cool!.holdS, work!.bandC]
      .concat([work!.ceilingC, work!.floorC, work!.lostAboveC])
      .map((number) => (Array.isArray(number) ? number.join('–') : String(number)));
    expect(cells.map((cell) => cell.split(' ')[0])).toEqual(wanted);
  });
});

describe('a bad profile fails in the schema and in the reader alike', () => {
  const bad: readonly (readonly [string, (profile: Record<string, unknown>, cool: Record<string, unknown>) => void])[] =
    [
      ['no id', (profile) => delete profile['id']],
      ['no source', (profile) => delete profile['source']],
      ['an empty title', (profile) => (profile['title'] = '  ')],
      ['a coating that is no text', (profile) => (profile['coating'] = 3)],
      ['an unknown key', (profile) => (profile['colour'] = 'brown')],
      ['no phases', (profile) => (profile['phases'] = [])],
      ['phases that are no list', (profile) => (profile['phases'] = {})],
      ['a phase that is no object', (profile) => (profile['phases'] = ['melt'])],
      ['an unknown key in a phase', (_, cool) => (cool['celingC'] = 30)],
      ['an id with a blank', (_, cool) => (cool['id'] = 'cool down')],
      ['an id with a dot', (_, cool) => (cool['id'] = 'cool.1')],
      ['an id with two hyphens', (_, cool) => (cool['id'] = 'cool--down')],
      ['an id longer than a file name should be', (profile) => (profile['id'] = 'x'.repeat(61))],
      ['an unknown heading', (_, cool) => (cool['heading'] = 'sideways')],
      ['no band', (_, cool) => delete cool['bandC']],
      ['a band of three', (_, cool) => (cool['bandC'] = [26, 27, 28])],
      ['a band of texts', (_, cool) => (cool['bandC'] = ['27', '28'])],
      ['a band hotter than any sugar', (_, cool) => (cool['bandC'] = [27, 280])],
      ['a floor colder than a freezer', (_, cool) => (cool['floorC'] = -21)],
      ['a ceiling that is null', (_, cool) => (cool['ceilingC'] = null)],
      ['a lost that is a text', (_, cool) => (cool['lostAboveC'] = '34')],
      ['a negative hold', (_, cool) => (cool['holdS'] = -1)],
      ['a hold of more than a day', (_, cool) => (cool['holdS'] = 90_000)],
      ['an empty cue', (_, cool) => (cool['cue'] = '')],
      ['sources as a text', (profile) => (profile['sources'] = 'the bag')],
      ['a source that is a number', (profile) => (profile['sources'] = { 'phases.cool.bandC': 3 })],
      ['a source for an unknown field', (profile) => (profile['sources'] = { 'phases.cool.bandF': 'the bag' })],
      ['onLost that is no id', (profile) => (profile['onLost'] = 'cool down')],
    ];
  test.each(bad)('%s', (_, spoil) => {
    const profile = JSON.parse(textOf('dark.json')) as { phases: Record<string, unknown>[] } & Record<string, unknown>;
    spoil(profile, profile.phases[1]!);
    expect(fitsSchema(profile)).toBe(false);
    expect(profileFromJson(profile, 'bad.json').ok).toBe(false);
  });

  test('a list, a text and nothing at all', () => {
    for (const value of [[], 'dark', null, 7]) {
      expect(fitsSchema(value)).toBe(false);
      expect(profileFromJson(value, 'bad.json').ok).toBe(false);
    }
  });
});
