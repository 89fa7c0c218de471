/** The golden stories: made-up runs of a small simulated bowl, each showing one thing that happens in a kitchen. */
import { chance } from '../../../server/source/kitchen/chance.ts';
import { shipped } from '../shipped.ts';
import { command, lineAt, linkAt, told, type Story, type Telling, type When } from './told.ts';

/** All of them, in the order they are to be read; made anew at each call, always the same. */
export function stories(): Story[] {
  return [...CLEAN, ...HANDLED_WRONG, ...THERMOMETER_TROUBLE, ...KITCHEN_DOINGS].map(told);
}

const DARK = shipped('dark');
const MILK = shipped('milk');
const WHITE = shipped('white');

const CLEAN: readonly Telling[] = [
  {
    name: 'clean-dark',
    shows: 'Dark chocolate from solid to dipping, handled well; a good strip test two minutes into the dipping.',
    profile: DARK,
    handling: 'well',
    seed: 11,
    also: (when) => [
      command(when.phase('work') + 120, { name: 'act', act: 'strip-test-good' }),
      command(when.phase('work') + 130, { name: 'act', act: 'dipping-started' }),
    ],
  },
  {
    name: 'clean-milk',
    shows: 'Milk chocolate from solid to dipping, handled well; the thermometer writes its unit.',
    profile: MILK,
    handling: 'well',
    seed: 12,
    line: (valueC) => `${valueC.toFixed(1)} C`,
  },
  {
    name: 'clean-white',
    shows: 'White chocolate from solid to dipping, handled well; the thermometer puts a label before the value.',
    profile: WHITE,
    handling: 'well',
    seed: 13,
    line: (valueC) => `T: ${valueC.toFixed(2)}`,
  },
  {
    name: 'started-tempered',
    shows: 'Tempered chocolate from yesterday, already melted with care: the run starts at dipping.',
    profile: DARK,
    handling: 'well',
    seed: 14,
    condition: 'tempered',
    startAt: 'work',
    habits: { workS: 900 },
  },
  {
    name: 'heat-by-turns',
    shows: 'Rewarmed by fits and starts, a few seconds on the bath and a few off it; it ends in the band all the same.',
    profile: DARK,
    handling: 'cycles',
    seed: 15,
  },
];

const HANDLED_WRONG: readonly Telling[] = [
  {
    name: 'overshoot-in-rewarm',
    shows: 'Left on the bath too long while rewarming: over the ceiling, acknowledged, stirred down again.',
    profile: DARK,
    handling: 'overshoots',
    seed: 26,
    also: (when) => [
      command(when.offHeat(when.over(32.6, when.phase('rewarm')) + 60), { name: 'act', act: 'off-heat' }),
      command(when.over(32.5, when.phase('rewarm')) + 25, { name: 'acknowledge', alarm: 'overshoot', by: 'Ana' }),
    ],
  },
  {
    name: 'slow-drift-over-ceiling',
    shows: 'Left on a lukewarm bath while dipping: it creeps over the ceiling within minutes, unnoticed.',
    profile: DARK,
    handling: 'drifts',
    seed: 22,
  },
  {
    name: 'temper-lost-and-recovered',
    shows: 'Heated until no seed was left, noticed, cooled again and brought back to the working band.',
    profile: DARK,
    handling: 'recovers',
    seed: 24,
    habits: { workS: 480 },
  },
  {
    name: 'undershoot',
    shows: 'Left in the cold too long: below the floor of the seeding band, then rewarmed.',
    profile: DARK,
    handling: 'undershoots',
    seed: 25,
  },
  {
    name: 'not-cooled-enough',
    shows: 'Turned back to the heat before the seeding band was reached; dipped regardless.',
    profile: DARK,
    handling: 'under-cools',
    seed: 26,
  },
];

/** What a thermometer on a loose plug can write between two good lines. */
const JUNK = [
  '',
  '   ',
  '---',
  'ERR',
  '3',
  '31.4.2',
  'T=',
  '\u00ff\u00fe\u0000\u0013',
  'no sensor',
  'nan',
  'boot v2 ok',
];

const THERMOMETER_TROUBLE: readonly Telling[] = [
  {
    name: 'unplugged-while-cooling',
    shows: 'The plug is pulled while cooling and put back 45 s later; the run goes on over the gap.',
    profile: DARK,
    handling: 'well',
    seed: 31,
    mishaps: (when) => [{ kind: 'gap', fromS: when.phase('cool') + 90, toS: when.phase('cool') + 135 }],
    also: (when) => [linkAt(when.phase('cool') + 90, false, 'unplugged'), linkAt(when.phase('cool') + 134.8, true)],
  },
  {
    name: 'garbled-lines',
    shows: 'One line in nine is junk: empty, torn, words, stray bytes. The good ones carry the run.',
    profile: DARK,
    handling: 'well',
    seed: 32,
    also: (when) => junkThrough(when),
  },
  {
    name: 'probe-lifted',
    shows: 'The probe is lifted out of the bowl for 25 s, and later forgotten on the bench for a minute and a half.',
    profile: DARK,
    handling: 'well',
    seed: 33,
    mishaps: (when) => [
      { kind: 'lifted', fromS: when.phase('work') + 60, toS: when.phase('work') + 85, mediumC: 20, lagS: 22 },
      { kind: 'lifted', fromS: when.phase('work') + 240, toS: when.phase('work') + 330, mediumC: 20, lagS: 22 },
    ],
  },
  {
    name: 'warm-air-gun-on-tip',
    shows:
      'A warm-air gun goes over the bowl twice and catches the probe: its tip says 50 °C and more, the chocolate does not.',
    profile: DARK,
    handling: 'well',
    seed: 34,
    mishaps: (when) => [
      { kind: 'gun', fromS: when.phase('work') + 90, toS: when.phase('work') + 98, mediumC: 95, lagS: 9 },
      { kind: 'gun', fromS: when.phase('work') + 300, toS: when.phase('work') + 320, mediumC: 85, lagS: 12 },
    ],
  },
  {
    name: 'power-on-sentinel',
    shows:
      'The thermometer loses power for a moment, twice: each time its first value is 85.00, which it never measured.',
    profile: DARK,
    handling: 'well',
    seed: 35,
    mishaps: (when) => [
      { kind: 'power-on', atS: 0.5 },
      { kind: 'gap', fromS: when.phase('cool') + 60, toS: when.phase('cool') + 64 },
      { kind: 'power-on', atS: when.phase('cool') + 64 },
      { kind: 'power-on', atS: when.phase('work') + 200 },
    ],
    also: (when) => [linkAt(when.phase('cool') + 60, false, 'unplugged'), linkAt(when.phase('cool') + 63.9, true)],
  },
];

const KITCHEN_DOINGS: readonly Telling[] = [
  {
    name: 'cold-top-up',
    shows:
      'Cooler tempered chocolate is stirred in while dipping: a degree off within 20 s, and later two. Both are real.',
    profile: DARK,
    handling: 'well',
    seed: 41,
    habits: {
      workS: 900,
      topUps: [
        { afterS: 180, dropC: 1, tempC: 24 },
        { afterS: 300, dropC: 2, tempC: 23 },
      ],
    },
    also: (when) => [command(when.phase('work') + 175, { name: 'act', act: 'topped-up-tempered' })],
  },
];

/** Junk after every ninth line or so, a quarter of a second behind it. */
function junkThrough(when: When) {
  const luck = chance(99);
  const lines = [];
  for (let atS = 4; atS < when.endS - 2; atS += Math.round(luck.between(5, 13))) {
    lines.push(lineAt(atS + 0.75, luck.pick(JUNK)));
  }
  return lines;
}
