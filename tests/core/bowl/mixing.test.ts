/** Whether a reading stands for the whole bowl. Rule numbers are those of DEVELOPERS.md. */
import { describe, expect, it } from 'vitest';
import { followLiveliness, standsForBowl, startLiveliness } from '../../../server/core/bowl/mixing.ts';
import { estimateAt, situationAt } from '../../../server/core/engine.ts';
import { chance } from '../../../server/source/kitchen/chance.ts';
import { Bowl, shippedProfile } from '../../support/bowl.ts';
import { Watched } from './watched.ts';

/** What was said of the mixing, each word once per time it was said. */
function saidOf(bowl: Watched, go: () => void, seconds: number): (string | null)[] {
  const said: (string | null)[] = [];
  for (let s = 0; s < seconds; s++) {
    go();
    const { mixing } = bowl.bowl;
    if (said.length === 0 || said.at(-1) !== mixing) said.push(mixing);
  }
  return said;
}

describe('how well a reading stands for the bowl', () => {
  it('says nothing before it has looked, and then that a stirred bowl is stirred', () => {
    const bowl = new Watched(45);
    const said = saidOf(bowl, () => bowl.drift(15, 800, 1), 400);
    expect(said).toEqual([null, 'stirred']);
  });

  it('tells within a minute and a half that nobody stirs any more, and within half a minute that somebody does again', () => {
    const bowl = new Watched(45).drift(20, 900, 200);
    bowl.swingC = 0;
    expect(saidOf(bowl, () => bowl.drift(20, 900, 1), 90)).toEqual(['stirred', 'unstirred']);
    bowl.swingC = 0.1;
    expect(saidOf(bowl, () => bowl.drift(20, 900, 1), 30)).toEqual(['unstirred', 'stirred']);
  });

  it('tells a tip held against the wall, and withdraws it', () => {
    const bowl = new Watched(31.5, { seed: 3 }).hold(200);
    bowl.swingC = 1.2;
    expect(saidOf(bowl, () => bowl.hold(1), 90)).toEqual(['stirred', 'at-the-wall']);
    bowl.swingC = 0.1;
    expect(saidOf(bowl, () => bowl.hold(1), 60)).toEqual(['at-the-wall', 'stirred']);
  });

  it('never blames a thermometer that shows no stirring: a smooth trace is neither unstirred nor at the wall', () => {
    const bowl = new Watched(45, { swingC: 0 });
    expect(saidOf(bowl, () => bowl.drift(20, 700, 1), 1500)).toEqual([null]);
    expect(saidOf(bowl, () => bowl.drift(60, 500, 1), 1500)).toEqual([null]);
  });

  it('takes stillness for nothing where the thermometer moves in steps of a tenth', () => {
    let liveliness = startLiveliness(0, 0);
    for (let s = 1; s <= 300; s++)
      liveliness = followLiveliness(liveliness, s * 1000, s % 2 === 0 ? 0.1 : -0.1, 1, 0.1);
    for (let s = 301; s <= 600; s++) liveliness = followLiveliness(liveliness, s * 1000, 0, 1, 0.1);
    expect(liveliness.mixing).toBeNull();
  });

  it('takes a bowl that it cannot tell of for stirred', () => {
    expect(standsForBowl(null)).toBe(true);
    expect(standsForBowl('stirred')).toBe(true);
    expect(standsForBowl('unstirred')).toBe(false);
    expect(standsForBowl('at-the-wall')).toBe(false);
  });

  it('[G5] gives an unmixed bowl an arrival between now and never', () => {
    const luck = chance(5);
    const cooling = (s: number): number => 18 + 27 * Math.exp(-s / 1100);
    const bowl = new Bowl(shippedProfile('dark'), 45).start('cool');
    bowl.shows(200, (s) => cooling(s) + 0.1 * luck.normal(), cooling);
    expect(situationAt(bowl.state, bowl.atMs).mixing).toBe('stirred');
    expect(estimateAt(bowl.state, bowl.atMs)!.etaLowS).toBeGreaterThan(0);
    expect(estimateAt(bowl.state, bowl.atMs)!.etaHighS).not.toBeNull();
    bowl.shows(
      120,
      (s) => cooling(200 + s),
      (s) => cooling(200 + s),
    );
    expect(situationAt(bowl.state, bowl.atMs).mixing).toBe('unstirred');
    expect(estimateAt(bowl.state, bowl.atMs)).toMatchObject({ etaLowS: 0, etaHighS: null });
    expect(estimateAt(bowl.state, bowl.atMs)!.etaS).toBeGreaterThan(0);
  });
});
