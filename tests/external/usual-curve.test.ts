/**
 * The usual curve for dark chocolate (about 50 → 27 → 32 °C: common practice, no source), handled with care, as a table of readings.
 * A run like this must hear cues at most: an alarm in it would teach people not to listen.
 */
import { describe, expect, test } from 'vitest';
import { decodeCsv } from '../../server/core/record/csv.ts';
import type { RunEvent } from '../../server/core/record/event.ts';
import { runTrace } from '../../server/core/replay.ts';
import { headerFor } from '../support/bowl.ts';
import { shipped } from '../support/shipped.ts';

interface Hand {
  /** °C a minute while going somewhere: 1–2 in hand work. */
  readonly rateCPerMin: number;
  /** How long the turns are rounded: heat is taken off early and bowl and bath carry on, s. */
  readonly roundingS: number;
  /** Spread of the readings about the chocolate, °C. */
  readonly noiseC: number;
  readonly seed: number;
}

/** Minutes in which a dwell is spent at the turn, on top of the way. */
const MELTED_MIN = 5;
const SEEDING_MIN = 7;
const DIPPING_MIN = 30;

/** One value a second: straight ways between the usual temperatures, then rounded at the turns. */
function usualCurveC({ rateCPerMin, roundingS }: Hand): number[] {
  const straight: number[] = [];
  let atC = 30;
  const go = (toC: number, stayMin: number) => {
    const seconds = Math.round((Math.abs(toC - atC) / rateCPerMin) * 60);
    for (let s = 1; s <= seconds; s += 1) straight.push(atC + ((toC - atC) * s) / seconds);
    for (let s = 0; s < stayMin * 60; s += 1) straight.push(toC);
    atC = toC;
  };
  go(49.5, MELTED_MIN);
  go(27.2, SEEDING_MIN);
  go(31.7, DIPPING_MIN);
  return rounded(rounded(straight, roundingS), roundingS);
}

/** Each value becomes the mean of those within half the width; the ends stay as they are. */
function rounded(values: readonly number[], widthS: number): number[] {
  const half = Math.floor(widthS / 2);
  return values.map((_, index) => {
    const around = values.slice(Math.max(0, index - half), index + half + 1);
    return around.reduce((sum, value) => sum + value, 0) / around.length;
  });
}

/** Sums of uniform numbers, near enough to a bell; the same for the same seed. */
function noise(seed: number): () => number {
  let state = seed;
  const uniform = () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return state / 2 ** 32;
  };
  return () => uniform() + uniform() + uniform() + uniform() - 2;
}

function logOf(hand: Hand): RunEvent[] {
  const next = noise(hand.seed);
  const rows = usualCurveC(hand).map(
    (valueC, s) => `${s},${(valueC + next() * hand.noiseC * Math.sqrt(3)).toFixed(2)}`,
  );
  const profile = shipped('dark');
  const inputs = decodeCsv(['t_s,chocolate_c', ...rows].join('\n'), profile.phases[0]!.id);
  if (!inputs.ok) throw new Error(inputs.reason);
  return runTrace(headerFor(profile, { probeLagS: null }), inputs.value);
}

const HANDS: readonly Hand[] = [1, 1.5, 2].flatMap((rateCPerMin) =>
  [1, 2, 3].map((seed) => ({ rateCPerMin, roundingS: 90, noiseC: 0.03, seed })),
);

describe.each(HANDS)('the usual curve for dark at $rateCPerMin °C/min, seed $seed', (hand) => {
  const log = logOf(hand);

  test('walks melt, cool, rewarm, work, each reached by itself', () => {
    const entered = log.filter((event) => event.kind === 'phase-entered');
    expect(entered.map((event) => event.phase)).toEqual(['melt', 'cool', 'rewarm', 'work']);
    expect(entered.slice(1).map((event) => event.by)).toEqual(['reached', 'reached', 'reached']);
  });

  test('raises no alarm', () => {
    expect(log.filter((event) => event.kind === 'alarm-raised')).toEqual([]);
  });

  test('ends in temper', () => {
    expect(log.findLast((event) => event.kind === 'standing')).toMatchObject({ standing: 'in-temper' });
  });
});

test('the same curve a degree and a half hotter at its end does raise the alarm: the silence above is not deafness', () => {
  const [hand] = HANDS;
  const profile = shipped('dark');
  const values = usualCurveC(hand!);
  const rows = values.map((valueC, s) => `${s},${(valueC + (s > values.length - 900 ? 1.5 : 0)).toFixed(2)}`);
  const inputs = decodeCsv(['t_s,chocolate_c', ...rows].join('\n'), 'melt');
  if (!inputs.ok) throw new Error(inputs.reason);
  const alarms = runTrace(headerFor(profile, { probeLagS: null }), inputs.value).filter(
    (event) => event.kind === 'alarm-raised',
  );
  expect(alarms.map((event) => event.alarm)).toContain('overshoot');
});
