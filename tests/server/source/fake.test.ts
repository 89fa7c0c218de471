/** The fake thermometer, switch by switch: what the product then says, and that nothing bogus reaches the bowl. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import type { AlarmName, RejectReason } from '../../../server/core/record/event.ts';
import { deedsOf } from '../../support/fake/deeds.ts';
import { bogus, heardReally, heardVirtually, type Heard } from '../../support/fake/heard.ts';
import { VirtualWire } from '../../support/fake/virtual-wire.ts';
import { readScript, SWITCHES, writtenScript, type Script, type SwitchName } from '../../support/fake/script.ts';

function scriptOf(text: string): Script {
  const read = readScript(text);
  if (!read.ok) throw new Error(read.complaint);
  return read.script;
}

function alarmsOf(heard: Heard): AlarmName[] {
  return heard.bowl.events.flatMap((event) => (event.kind === 'alarm-raised' ? [event.alarm] : []));
}

interface Said {
  /** How often the link goes down. */
  readonly downs?: number;
  /** What the page says of the link meanwhile. */
  readonly why?: RegExp;
  readonly refused?: readonly RejectReason[];
  readonly alarm?: AlarmName;
  /** Instead of twelve seconds from the twentieth on. */
  readonly script?: string;
  /** Not told by anybody: how many degrees it is off at most. */
  readonly unseenC?: number;
}

const GONE = { downs: 1, alarm: 'probe-silent' } as const;

const SAID: Readonly<Record<SwitchName, Said>> = {
  unplug: { ...GONE, why: /unplugged, or its cable is loose/ },
  'unplug-in-read': { ...GONE, why: /unplugged, or its cable is loose/ },
  elsewhere: { ...GONE, why: /is not plugged in/ },
  rename: { ...GONE, why: /is not plugged in/ },
  clones: {},
  busy: { ...GONE, why: /Another program is using/ },
  denied: { ...GONE, why: /This account may not open .*dialout/ },
  mute: { ...GONE, why: /Nothing has come .* no other program/ },
  drip: {},
  burst: { ...GONE, why: /Nothing has come/ },
  torn: { refused: ['not-a-temperature'] },
  doubled: {},
  endless: { refused: ['too-long'], alarm: 'probe-silent' },
  cr: {},
  lf: {},
  lfcr: {},
  nul: {},
  ff: { refused: ['not-a-temperature'], alarm: 'probe-silent' },
  // Found out on the open port: nothing of the noise is read meanwhile.
  speed: { script: 'seed=3 for=60 speed@0' },
  banner: { refused: ['not-a-temperature', 'unsure'] },
  reset: { refused: ['power-on-value'] },
  // Until it is clear that it writes otherwise now.
  format: { refused: ['unsure'] },
  appear: { refused: ['unsure'] },
  vanish: { refused: ['not-the-bowl'] },
  unit: {},
  'unit-unsaid': { refused: ['not-the-bowl'] },
  comma: {},
  sentinel: { refused: ['sentinel'], alarm: 'probe-silent' },
  // Until it is clear that no stirred bowl stands so still.
  stuck: { refused: ['stuck'], alarm: 'probe-silent', script: 'seed=3 for=180 stuck@20+150', unseenC: 0.4 },
  spike: { refused: ['spike'] },
  // A probe that goes off slowly says what a bowl could: only a check against ice or another thermometer shows it.
  drift: { unseenC: 0.6, script: 'seed=3 for=90 drift@20+60' },
  theft: { refused: ['unsure'], why: /program/ },
};

describe('on the virtual port', () => {
  test.each(Object.entries(SAID))('%s', async (name, said) => {
    const script = scriptOf(said.script ?? `seed=3 for=60 ${name}@20+12`);
    const heard = await heardVirtually(script);
    expect(heard.turns()).toEqual([true, ...Array.from({ length: said.downs ?? 0 }, () => [false, true]).flat()]);
    if (said.why !== undefined) expect(heard.reasons().join('\n')).toMatch(said.why);
    expect(Object.keys(heard.refused())).toEqual(expect.arrayContaining([...(said.refused ?? [])]));
    expect(alarmsOf(heard)).toEqual(said.alarm === undefined ? [] : [said.alarm]);
    expect(bogus(heard, script, said.unseenC)).toEqual([]);
    // Whatever was on, after it the bowl is read as before.
    const last = heard.bowl.readings.findLast(({ quality }) => quality === 'good');
    expect(script.forMs - (last?.atMs ?? 0)).toBeLessThan(3000);
  });

  test('[L7] of two of one make without serial numbers the other is never taken for it, and it is found again in its socket', async () => {
    const script = scriptOf('seed=4 for=60 clones@5+50 unplug@20+12');
    const wire = new VirtualWire({ serials: false });
    const heard = await heardVirtually(script, wire);
    expect(wire.openings).toEqual({ own: 2, clone: 0 });
    expect(bogus(heard, script)).toEqual([]);
    expect(heard.turns()).toEqual([true, false, true]);
  });
});

describe('[L9] a thermometer that is set to another speed in the midst', () => {
  const script = scriptOf('seed=3 for=110 speed@20+40');

  function goodIn(heard: Heard, fromMs: number, untilMs: number): number {
    return heard.bowl.readings.filter(({ quality, atMs }) => quality === 'good' && atMs >= fromMs && atMs < untilMs)
      .length;
  }

  test('is followed on the open port', async () => {
    const wire = new VirtualWire();
    const found: number[] = [];
    const heard = await heardVirtually(script, wire, { onBaud: (baud) => found.push(baud) });
    expect(found).toEqual([9600, 115_200]);
    expect(wire.openings.own).toBe(1);
    expect(heard.links.at(-1)).toMatchObject({ state: 'up', baud: 115_200 });
    // Five seconds of noise, twelve of searching, and some for the estimate to begin anew.
    expect(goodIn(heard, 40_000, 60_000)).toBeGreaterThan(30);
    expect(bogus(heard, script)).toEqual([]);
  });

  test('is not where a person named the speed', async () => {
    const heard = await heardVirtually(script, new VirtualWire(), { baud: 9600 });
    expect(goodIn(heard, 25_000, 60_000)).toBe(0);
    expect(goodIn(heard, 70_000, 110_000)).toBeGreaterThan(70);
  });
});

describe('on a pseudo-terminal', () => {
  test('whatever is on, the lines are those of the virtual port', async () => {
    const text = 'seed=9 every=0.02 for=1.6 cr@0.2+0.2 lfcr@0.4+0.2 nul@0.6+0.1 ff@0.7+0.1 torn@0.8+0.2 doubled@1+0.1';
    const script = scriptOf(`${text} burst@1.1+0.1 endless@1.2+0.1 drip@1.3+0.1 banner@1.45 reset@1.5 theft@0.5+0.1`);
    const virtually = await heardVirtually(script);
    const really = await heardReally(script, (heard) => heard.lines().length >= virtually.lines().length);
    expect(really.lines().length).toBeGreaterThan(50);
    expect(really.lines()).toEqual(virtually.lines());
    expect(really.turns()).toEqual([true]);
  });

  test('cables: pulled in mid-read, back elsewhere, held by another program; one link down each, and nothing bogus', async () => {
    const script = scriptOf('seed=5 every=0.05 for=5 unplug-in-read@0.5+1 rename@2+0.3 busy@3+2');
    const isBack = (heard: Heard): boolean => heard.turns().length === 7;
    const heard = await heardReally(script, isBack, {
      timings: { retryFirstMs: 20, retryMostMs: 100, lookMs: 200 },
    });
    expect(heard.turns()).toEqual([true, false, true, false, true, false, true]);
    expect(heard.reasons().join('\n')).toMatch(/is not plugged in/);
    expect(heard.reasons().join('\n')).toMatch(/Another program is using/);
    expect(bogus(heard, script)).toEqual([]);
  });
});

describe('a script', () => {
  test('is one line of text, and comes back from it', () => {
    const text = 'seed=7 every=0.5 for=60 bowl=31.5 unplug@10+5 spike@20+1=25 sentinel@30 drift@40+10=-0.5';
    expect(writtenScript(scriptOf(text))).toBe(text);
    expect(scriptOf(writtenScript(scriptOf(text)))).toEqual(scriptOf(text));
  });

  test('gives the same deeds every time, and others with another seed', () => {
    const [script, other] = [scriptOf('seed=7 theft@0 reset@9'), scriptOf('seed=8 theft@0 reset@9')];
    expect(deedsOf(script)).toEqual(deedsOf(script));
    expect(deedsOf(script)).not.toEqual(deedsOf(other));
  });

  test.each(['unplug', 'unplugged@3', 'seed=x', 'every=0', 'unplug@-1', 'volume=3'])(
    '%s is refused with the word',
    (text) => {
      expect(readScript(text)).toMatchObject({ ok: false, complaint: expect.stringContaining(`"${text}"`) as string });
    },
  );

  test('has every switch told of in fixtures/README.md, in the same words', () => {
    const told = readFileSync(join(import.meta.dirname, '../../../fixtures/README.md'), 'utf8');
    for (const [name, does] of Object.entries(SWITCHES)) expect(told).toContain(`- **${name}**: ${does}.\n`);
  });
});
