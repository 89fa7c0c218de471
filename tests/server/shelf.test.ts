/** Profiles of one's own beside those that ship: at hand at once, there after a restart, and never in the way. */
import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { profileFromJson } from '../../server/core/record/profile-file.ts';
import type { Profile } from '../../server/core/record/profile.ts';
import { idFor, readOwn, Shelf } from '../../server/shelf.ts';
import { shipped } from '../support/shipped.ts';
import { freshFolder } from '../support/store.ts';

const DARK = shipped('dark');
const MINE: Profile = { ...DARK, id: 'mine', title: 'Mine' };

function shelfIn(folder: string): Shelf {
  return new Shelf([DARK, shipped('milk')], readOwn(folder));
}

const idsOf = (shelf: Shelf): string[] => shelf.profiles.map(({ id }) => id);

test('what is added, changed and removed counts at once and after a restart; shipped ones come first', () => {
  const folder = freshFolder();
  const shelf = shelfIn(folder);
  expect(shelf.add(MINE)).toEqual({ ok: true });
  expect(shelf.add({ ...DARK, id: 'another', title: 'Another' })).toEqual({ ok: true });
  expect(idsOf(shelf)).toEqual(['dark', 'milk', 'another', 'mine']);
  const changed: Profile[] = [];
  shelf.onChanged((profile) => changed.push(profile));
  const warmer = { ...MINE, title: 'Mine, warmer' };
  expect(shelf.change('mine', warmer)).toEqual({ ok: true });
  expect(changed).toEqual([warmer]);
  expect(shelfIn(folder).find('mine')).toEqual(warmer);
  expect(shelf.remove('another')).toEqual({ ok: true });
  for (const each of [shelf, shelfIn(folder)])
    expect([idsOf(each), each.ownIds]).toEqual([['dark', 'milk', 'mine'], ['mine']]);
  expect(readdirSync(join(folder, 'profiles'))).toEqual(['mine.json']);
});

test('shipped ones stay as they are, ids stay with their profiles, and none is had twice, in capitals neither', () => {
  const shelf = shelfIn(freshFolder());
  shelf.add(MINE);
  expect(shelf.change('dark', DARK)).toMatchObject({ ok: false, because: 'shipped' });
  expect(shelf.remove('dark')).toMatchObject({ ok: false, because: 'shipped' });
  expect(shelf.change('nobody', MINE)).toMatchObject({ ok: false, because: 'unknown' });
  expect(shelf.change('mine', { ...MINE, id: 'yours' })).toMatchObject({ ok: false, because: 'other-id' });
  for (const id of ['dark', 'Dark', 'mine', 'MINE']) {
    const answer = shelf.add({ ...MINE, id });
    expect(answer, id).toMatchObject({ ok: false, because: 'taken' });
  }
  expect(shelf.profiles).toEqual([DARK, shipped('milk'), MINE]);
});

describe('a folder with what does not belong there', () => {
  test('loses none of the good ones: the others are named, with what is wrong with them, and left where they are', () => {
    const folder = freshFolder();
    const own = join(folder, 'profiles');
    mkdirSync(own);
    writeFileSync(join(own, 'a-good.json'), JSON.stringify({ ...MINE, id: 'good' }));
    writeFileSync(join(own, 'b-broken.json'), '{"id": "broken",');
    writeFileSync(join(own, 'c-wrong.json'), JSON.stringify({ ...MINE, phases: [] }));
    writeFileSync(join(own, 'd-taken.json'), JSON.stringify({ ...MINE, id: 'dark' }));
    writeFileSync(join(own, 'notes.txt'), 'not a profile');
    const shelf = shelfIn(folder);
    expect(shelf.ownIds).toEqual(['good']);
    expect(shelf.leftOut.map(({ file }) => file)).toEqual(['b-broken.json', 'c-wrong.json', 'd-taken.json']);
    for (const { file, complaints } of shelf.leftOut) expect(complaints.join(), file).toContain(file);
    expect(readdirSync(own)).toHaveLength(5);
    shelf.change('good', { ...MINE, id: 'good', title: 'Better' });
    expect(JSON.parse(readFileSync(join(own, 'a-good.json'), 'utf8'))).toMatchObject({ title: 'Better' });
    expect(existsSync(join(own, 'good.json'))).toBe(false);
  });

  test('keeps what lies under the name of one that is added: a damaged file, and another profile', () => {
    const folder = freshFolder();
    const own = join(folder, 'profiles');
    mkdirSync(own);
    writeFileSync(join(own, 'Mine.json'), '{"id": "mine", damaged');
    writeFileSync(join(own, 'copy.json'), JSON.stringify({ ...MINE, id: 'a', title: 'A' }));
    const shelf = shelfIn(folder);
    expect(shelf.add(MINE)).toEqual({ ok: true });
    expect(shelf.add({ ...MINE, id: 'copy', title: 'Copy' })).toEqual({ ok: true });
    expect(readFileSync(join(own, 'Mine.json'), 'utf8')).toBe('{"id": "mine", damaged');
    expect(shelfIn(folder).ownIds).toEqual(['a', 'copy', 'mine']);
    shelf.remove('mine');
    expect(readdirSync(own).toSorted()).toEqual(['Mine.json', 'copy-2.json', 'copy.json']);
  });

  test('has room for the longest id there may be, in letters of four bytes too', () => {
    const folder = freshFolder();
    const id = '\u{10330}'.repeat(60);
    expect(profileFromJson({ ...MINE, id }, '').ok).toBe(true);
    expect(profileFromJson({ ...MINE, id: `${id}x` }, '').ok).toBe(false);
    expect(idFor(`${id} and more`)).toBe(id);
    expect(shelfIn(folder).add({ ...MINE, id })).toEqual({ ok: true });
    expect(shelfIn(folder).ownIds).toEqual([id]);
  });

  test('a disk that takes nothing is a reason, and changes nothing', () => {
    const folder = freshFolder();
    writeFileSync(join(folder, 'profiles'), 'a file where the folder should be');
    const shelf = shelfIn(folder);
    expect(shelf.add(MINE)).toMatchObject({ ok: false, because: 'disk' });
    expect(shelf.ownIds).toEqual([]);
  });
});

test.each([
  ['House dark 60 %', 'house-dark-60'],
  ['Ginger & caramel', 'ginger-caramel'],
  ['Überzug, weiß', 'überzug-weiß'],
  ['  …  ', ''],
  ['a'.repeat(200), 'a'.repeat(60)],
])('%s is called %s', (title, id) => {
  expect(idFor(title)).toBe(id);
});
