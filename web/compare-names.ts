/** What runs that are laid over one another are called, so that no two differ by their letters alone. Pure. */
import { beganAtMs } from '../server/core/show/view.ts';
import type { Laid } from './compare.ts';
import { broughtIn, dateOf, nameOf } from './run-words.ts';
import { wallAt } from './setting.ts';
import { RUNS } from './words/library.ts';
import { span } from './words/measure.ts';

/** Ginger for Saturday, Tue, Nov 24, 13:40, 1 h 58 min, brought in Thu, Nov 26. With the time of day where several came in on one. */
export function keysOf(laid: readonly Laid[], now: Date): readonly string[] {
  const keys = laid.map((each) => keyOf(each, now, broughtIn(each.run, now)));
  return keys.map((key, i) => {
    const { importedAtWall } = laid[i]!.run;
    if (importedAtWall === null || !isAgain(keys, key)) return key;
    return keyOf(laid[i]!, now, [RUNS.broughtIn(dateOf(importedAtWall, now))]);
  });
}

/** By name alone; those of one name by all that tells them apart. */
export function namesOf(laid: readonly Laid[], now: Date): readonly string[] {
  const names = laid.map(nameIn);
  const keys = keysOf(laid, now);
  return names.map((name, i) => (isAgain(names, name) ? keys[i]! : name));
}

function keyOf(laid: Laid, now: Date, origin: readonly string[]): string {
  return [nameIn(laid), dateOf(beganWall(laid), now), span(laid.account.lastedS), ...origin].join(', ');
}

function isAgain(all: readonly string[], one: string): boolean {
  return all.indexOf(one) !== all.lastIndexOf(one);
}

function beganWall({ run: { info }, view }: Laid): string {
  return new Date(wallAt(info, beganAtMs(info, view.visits))).toISOString();
}

function nameIn({ run, card }: Laid): string {
  return nameOf({ name: card?.name ?? null, title: run.info.profile.title });
}
