/**
 * The three figures that stand on a bag of chocolate, made into a whole profile: what the bag says becomes the bands, and the bounds around
 * them are ours, each with its source. Knows no coating by name.
 */
import { PROFILE_RANGE_C } from './profile-file.ts';
import type { Band, Phase, Profile } from './profile.ts';
import { type Complaint, type Fields, object, type Shape, shown, textUpTo } from './shape.ts';

/** As printed: one figure, or a range from low to high, °C. */
export type BagFigure = number | Band;

export interface Bag {
  readonly title: string;
  readonly coating: string;
  readonly meltC: BagFigure;
  readonly coolC: BagFigure;
  readonly workC: BagFigure;
}

/** Longest title and coating, characters (ours: a line on the start page). */
const TITLE_MAX_CHARS = 80;

/** Around a single figure. Melting reaches it and may go on by this; cooling gets down to it and may go on by that; work is about it (all ours, °C). */
const MELT_ROOM_C = 2;
const COOL_ROOM_C = 1;
const WORK_HALF_C = 0.5;
/** As far from their band as those of the profiles that ship, where these differ the more careful one (ours, °C): for melting that of white. */
const MELT_CEILING_OVER_C = 1;
const COOL_FLOOR_UNDER_C = 1;
const WORK_CEILING_OVER_C = 0.5;
const WORK_FLOOR_UNDER_C = 0.5;
const LOST_OVER_CEILING_C = 1.5;
/** The dwells of the profiles that ship (ours, s). */
const MELT_HOLD_S = 120;
const COOL_HOLD_S = 180;

/** Bounds are kept to the hundredth: sums of tenths have no last digits of their own. */
const HUNDREDTHS = 100;

const [LEAST_C, MOST_C] = PROFILE_RANGE_C;
const FIGURE_RULE = `a number from ${LEAST_C} to ${MOST_C} °C, or two with the lower one first, is wanted`;

const figure: Shape = {
  check: (value, path) => (isFigure(value) ? null : { path, value: shown(value), rule: FIGURE_RULE }),
  write: (value) => JSON.stringify(value),
  schema: {
    oneOf: [
      { type: 'number', minimum: LEAST_C, maximum: MOST_C },
      { type: 'array', items: { type: 'number', minimum: LEAST_C, maximum: MOST_C }, minItems: 2, maxItems: 2 },
    ],
  },
};

function isFigure(value: unknown): value is BagFigure {
  if (!Array.isArray(value)) return isInRange(value);
  const [low, high] = value as unknown[];
  return value.length === 2 && isInRange(low) && isInRange(high) && low < high;
}

function isInRange(value: unknown): value is number {
  return typeof value === 'number' && value >= LEAST_C && value <= MOST_C;
}

const BAG: Fields<Bag> = {
  title: textUpTo(TITLE_MAX_CHARS),
  coating: textUpTo(TITLE_MAX_CHARS),
  meltC: figure,
  coolC: figure,
  workC: figure,
};

const plainBag = object(BAG);

/** Also wants melting above working above cooling, with room for the bounds between. */
export const bagShape: Shape = {
  ...plainBag,
  check: (value, path) => plainBag.check(value, path) ?? orderOf(value as Bag),
};

function orderOf({ meltC, coolC, workC }: Bag): Complaint | null {
  const work = workBand(workC);
  const cool = coolBand(coolC);
  const melt = meltBand(meltC);
  const say = (path: keyof Bag, value: BagFigure, rule: string): Complaint => ({ path, value: inWords(value), rule });
  if (melt[1] + MELT_CEILING_OVER_C > MOST_C)
    return say('meltC', meltC, `with its ceiling ${MELT_CEILING_OVER_C} over it, it must stay under ${MOST_C} °C`);
  if (cool[0] - COOL_FLOOR_UNDER_C < LEAST_C)
    return say('coolC', coolC, `with its floor ${COOL_FLOOR_UNDER_C} under it, it must stay over ${LEAST_C} °C`);
  if (cool[1] >= work[0])
    return say('coolC', coolC, `chocolate is cooled to below where it is worked, and that begins at ${work[0]} °C`);
  if (melt[0] <= lostOf(work))
    return say('meltC', meltC, `melting must go beyond where no seed is left, and that is ${lostOf(work)} °C`);
  return null;
}

/** The whole profile. The bag must have passed its shape; `id` must be one that a profile may have. */
export function profileFromBag({ title, coating, meltC, coolC, workC }: Bag, id: string): Profile {
  return {
    id,
    title: title.trim(),
    coating: coating.trim(),
    source:
      'The numbers on the bag for melting, cooling and working; the bounds around them are ours. For cooling to the low point, not for seeding.',
    sources: sourcesOf(meltC, coolC, workC),
    onLost: 'cool',
    phases: phasesOf(meltBand(meltC), coolBand(coolC), workBand(workC)),
  };
}

function phasesOf(melt: Band, cool: Band, work: Band): Phase[] {
  const ceilingC = tidy(work[1] + WORK_CEILING_OVER_C);
  const lostAboveC = lostOf(work);
  return [
    {
      id: 'melt',
      heading: 'up',
      bandC: melt,
      ceilingC: tidy(melt[1] + MELT_CEILING_OVER_C),
      holdS: MELT_HOLD_S,
      cue: 'Melt it all, gently. Stir now and then until no piece is left.',
    },
    {
      id: 'cool',
      heading: 'down',
      bandC: cool,
      floorC: tidy(cool[0] - COOL_FLOOR_UNDER_C),
      holdS: COOL_HOLD_S,
      cue: 'Cool it and keep it moving. Scrape the wall: the seed forms there.',
    },
    {
      id: 'rewarm',
      heading: 'up',
      bandC: work,
      ceilingC,
      lostAboveC,
      cue: 'Warm it a little at a time. Take it off early: it carries on by itself.',
    },
    {
      id: 'work',
      heading: 'hold',
      bandC: work,
      ceilingC,
      floorC: tidy(work[0] - WORK_FLOOR_UNDER_C),
      lostAboveC,
      cue: 'Test a strip on a knife tip, then dip. Warm for seconds at a time.',
    },
  ];
}

function sourcesOf(meltC: BagFigure, coolC: BagFigure, workC: BagFigure): Record<string, string> {
  const working = bagWords('work', 'at', workC, `ours: half a degree to either side`);
  return {
    'phases.melt.bandC': bagWords('melt', 'to', meltC, `ours: room for ${MELT_ROOM_C} °C more`),
    'phases.melt.ceilingC': `Ours, ${MELT_CEILING_OVER_C} °C over the band.`,
    'phases.melt.holdS': 'Ours: two minutes at melting heat so that no crystal is left in the middle of the bowl.',
    'phases.cool.bandC': bagWords('cool', 'to', coolC, `ours: room for ${COOL_ROOM_C} °C less`),
    'phases.cool.floorC': `Ours, ${COOL_FLOOR_UNDER_C} °C under the band: below it the mass thickens fast.`,
    'phases.cool.holdS': 'Ours: three minutes, stirring.',
    'phases.rewarm.bandC': working,
    'phases.rewarm.ceilingC': 'Ours, half a degree over the band.',
    'phases.rewarm.lostAboveC': `Ours, ${LOST_OVER_CEILING_C} °C over the ceiling.`,
    'phases.work.bandC': working,
    'phases.work.ceilingC': 'Ours, half a degree over the band.',
    'phases.work.floorC': 'Ours, half a degree under the band.',
    'phases.work.lostAboveC': `Ours, ${LOST_OVER_CEILING_C} °C over the ceiling.`,
    onLost: 'Ours: cool again with fresh seed; begin again from the melt if there are lumps.',
  };
}

/** A printed range is the band as it stands; of a single figure it is said what was added. */
function bagWords(what: string, where: string, printed: BagFigure, added: string): string {
  const said = `From the bag: ${what} ${where} ${inWords(printed)} °C`;
  return typeof printed === 'number' ? `${said}; ${added}.` : `${said}.`;
}

function inWords(printed: BagFigure): string {
  return typeof printed === 'number' ? String(printed) : `${printed[0]}–${printed[1]}`;
}

function meltBand(printed: BagFigure): Band {
  return typeof printed === 'number' ? [printed, tidy(printed + MELT_ROOM_C)] : printed;
}

function coolBand(printed: BagFigure): Band {
  return typeof printed === 'number' ? [tidy(printed - COOL_ROOM_C), printed] : printed;
}

function workBand(printed: BagFigure): Band {
  return typeof printed === 'number' ? [tidy(printed - WORK_HALF_C), tidy(printed + WORK_HALF_C)] : printed;
}

function lostOf([, high]: Band): number {
  return tidy(high + WORK_CEILING_OVER_C + LOST_OVER_CEILING_C);
}

function tidy(valueC: number): number {
  return Math.round(valueC * HUNDREDTHS) / HUNDREDTHS;
}
