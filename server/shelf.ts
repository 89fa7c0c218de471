/**
 * All profiles at hand: those that ship, which nobody changes, and a person's own, each a file in the data folder. What is put on it or
 * taken off counts at once, for every bowl and page. A damaged file of one's own is named and left alone; it keeps nothing else away.
 */
import { readdirSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { ID_MAX_CHARS } from './core/record/profile-file.ts';
import type { Profile } from './core/record/profile.ts';
import { type LeftOut, readFolder } from './profiles.ts';
import { makeFolder } from './store/folder.ts';
import { writeWhole } from './whole-file.ts';

/** Why something was not done. `path`: the place in the profile that is at fault. */
export type ShelfAnswer =
  | { readonly ok: true }
  | {
      readonly ok: false;
      readonly because: 'unknown' | 'shipped' | 'taken' | 'other-id' | 'disk';
      readonly detail: string;
    };

/** Own profiles lie in this folder of the data folder. */
const FOLDER = 'profiles';

export class Shelf {
  readonly #folder: string;
  readonly #shipped: readonly Profile[];
  #own: readonly OwnProfile[];
  readonly #leftOut: LeftOut[];
  readonly #onChanged: ((profile: Profile) => void)[] = [];

  /** `shipped`: in their order. */
  constructor(shipped: readonly Profile[], { folder, found, leftOut }: OwnFolder) {
    this.#folder = folder;
    this.#shipped = shipped;
    this.#leftOut = [...leftOut];
    this.#own = this.#withIdsOfTheirOwn(found);
  }

  /** Shipped ones first, then one's own by title. A new list whenever something changed. */
  get profiles(): readonly Profile[] {
    return [...this.#shipped, ...this.#own.map(({ profile }) => profile)];
  }

  get ownIds(): readonly string[] {
    return this.#own.map(({ profile }) => profile.id);
  }

  /** Files among one's own that are none, or whose id is another's. */
  get leftOut(): readonly LeftOut[] {
    return this.#leftOut;
  }

  find(id: string): Profile | null {
    return this.profiles.find((profile) => profile.id === id) ?? null;
  }

  /** Told of each own profile that is not as it was. */
  onChanged(listener: (profile: Profile) => void): void {
    this.#onChanged.push(listener);
  }

  add(profile: Profile): ShelfAnswer {
    const other = this.profiles.find(({ id }) => isSame(id, profile.id));
    if (other !== undefined)
      return no('taken', `There is a profile ${other.id} already, “${other.title}”. This one needs another name.`);
    return this.#write({ file: this.#freeFileFor(profile.id), profile });
  }

  change(id: string, profile: Profile): ShelfAnswer {
    const own = this.#ownOf(id);
    if ('ok' in own) return own;
    if (profile.id !== id)
      return no('other-id', `This profile is ${id}; a profile keeps its id. Duplicate it to have another one.`);
    const answer = this.#write({ ...own, profile });
    if (answer.ok) for (const listener of this.#onChanged) listener(profile);
    return answer;
  }

  remove(id: string): ShelfAnswer {
    const own = this.#ownOf(id);
    if ('ok' in own) return own;
    try {
      rmSync(join(this.#folder, own.file), { force: true });
    } catch {
      return no('disk', `${own.file} cannot be deleted from ${this.#folder}.`);
    }
    this.#own = this.#own.filter((each) => each !== own);
    return { ok: true };
  }

  #ownOf(id: string): OwnProfile | Extract<ShelfAnswer, { ok: false }> {
    const own = this.#own.find(({ profile }) => profile.id === id);
    if (own !== undefined) return own;
    const shipped = this.find(id);
    return shipped === null
      ? no('unknown', `There is no profile ${id}.`)
      : no('shipped', `“${shipped.title}” came with Bowlside and stays as it is. Duplicate it, and change the copy.`);
  }

  #write(own: OwnProfile): ShelfAnswer {
    try {
      makeFolder(this.#folder);
      writeWhole(join(this.#folder, own.file), `${JSON.stringify(own.profile, null, 2)}\n`);
    } catch {
      return no('disk', `${own.file} cannot be written to ${this.#folder}. Is there room on the disk?`);
    }
    this.#own = byTitle([...this.#own.filter(({ file }) => file !== own.file), own]);
    return { ok: true };
  }

  /** Whatever lies in the folder stays there: a damaged profile, or one whose file is called otherwise than itself. */
  #freeFileFor(id: string): string {
    const taken = filesIn(this.#folder);
    const isFree = (file: string): boolean => !taken.some((other) => isSame(other, file));
    let file = `${id}.json`;
    for (let number = 2; !isFree(file); number++) file = `${id}-${number}.json`;
    return file;
  }

  #withIdsOfTheirOwn(found: readonly OwnProfile[]): readonly OwnProfile[] {
    const kept: OwnProfile[] = [];
    for (const own of found) {
      const others = [...this.#shipped, ...kept.map(({ profile }) => profile)];
      const other = others.find(({ id }) => isSame(id, own.profile.id));
      if (other === undefined) kept.push(own);
      else
        this.#leftOut.push({
          file: own.file,
          complaints: [`${own.file}: id: “${other.title}” has ${other.id} already`],
        });
    }
    return byTitle(kept);
  }
}

/** A profile of one's own and the file it lies in. */
interface OwnProfile {
  readonly file: string;
  readonly profile: Profile;
}

export interface OwnFolder {
  readonly folder: string;
  readonly found: readonly OwnProfile[];
  readonly leftOut: readonly LeftOut[];
}

/** One's own profiles in a data folder, which need not be there yet. */
export function readOwn(dataFolder: string): OwnFolder {
  const folder = join(dataFolder, FOLDER);
  return { folder, ...readFolder(folder) };
}

/** An id for a title, as a profile may have it; empty where the title has neither letter nor digit. */
export function idFor(title: string): string {
  const words =
    title
      .normalize('NFC')
      .toLowerCase()
      .match(/[\p{L}\p{N}]+/gu) ?? [];
  return Array.from(words.join('-')).slice(0, ID_MAX_CHARS).join('').replace(/-$/, '');
}

function filesIn(folder: string): readonly string[] {
  try {
    return readdirSync(folder);
  } catch {
    return [];
  }
}

/** Two ids are one file where a file system knows no capitals. */
function isSame(one: string, other: string): boolean {
  return one.toLowerCase() === other.toLowerCase();
}

function byTitle(own: readonly OwnProfile[]): readonly OwnProfile[] {
  return own.toSorted((a, b) => (a.profile.title < b.profile.title ? -1 : 1));
}

function no(
  because: Extract<ShelfAnswer, { ok: false }>['because'],
  detail: string,
): Extract<ShelfAnswer, { ok: false }> {
  return { ok: false, because, detail };
}
