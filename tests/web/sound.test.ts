/** What each urgency sounds like, when a page may say that it is heard, and what it reads aloud. */
import { describe, expect, test } from 'vitest';
import { isHeard, isSilent, isSounding } from '../../web/sound/audible.ts';
import { soundState } from '../../web/sound/hearing.ts';
import type { Hearing, Output } from '../../web/sound/hearing.ts';
import { isDue, SPOKEN_APART_MS, SPOKEN_EVERY_MS, spokenText } from '../../web/sound/spoken.ts';
import { envelope, HIGHEST_HZ, LOUDER_AFTER_S, LOWEST_HZ, samplesOf, VOICES } from '../../web/sound/voices.ts';
import type { Urgency } from '../../web/sound/voices.ts';
import { NO_MOMENT } from '../../web/moment.ts';
import { loudness, peaksOf } from '../support/sound/spectrum.ts';

const URGENCIES = Object.keys(VOICES) as Urgency[];
const RATE = 48_000;
/** Partials of one stroke lie so close in loudness, dB (IEC 60601-1-8 as summarised by the industry: four peaks within 15). */
const WITHIN_DB = 15;

describe.each(URGENCIES)('%s', (urgency) => {
  const voice = VOICES[urgency];
  const samples = [...samplesOf(voice, RATE)];

  test('each stroke has four partials or more, between 500 and 3,000 Hz, within 15 dB of one another', () => {
    for (const { partials } of voice.strokes) {
      expect(partials.length).toBeGreaterThanOrEqual(4);
      const shares = partials.map(({ share }) => share);
      expect(20 * Math.log10(Math.max(...shares) / Math.min(...shares))).toBeLessThan(WITHIN_DB);
      expect(partials.filter(({ hz }) => hz < LOWEST_HZ || hz > HIGHEST_HZ)).toEqual([]);
    }
  });

  test('and in its samples they are found again', () => {
    for (const { atS, lengthS, partials } of voice.strokes) {
      const first = Math.round(atS * RATE);
      const peaks = peaksOf(samples.slice(first, first + Math.round(lengthS * RATE)), RATE);
      const found = peaks.filter(({ hz, db }) => hz >= LOWEST_HZ && hz <= HIGHEST_HZ && db > -WITHIN_DB);
      expect(found).toHaveLength(partials.length);
    }
  });

  test('no sample is cut off, no stroke clicks, and there is room to speak between two rounds', () => {
    expect(samples.every((sample) => Math.abs(sample) <= 1)).toBe(true);
    const last = voice.strokes.at(-1)!;
    expect(last.atS + last.lengthS).toBeLessThan(voice.everyS);
    expect(loudness(samples.slice(Math.ceil((last.atS + last.lengthS) * RATE)))).toBe(0);
    for (const stroke of voice.strokes) {
      expect([envelope(stroke, 0), envelope(stroke, stroke.lengthS)]).toEqual([0, 0]);
      const steps = Array.from({ length: 2_000 }, (_, i) => envelope(stroke, (i / 2_000) * stroke.lengthS));
      const jumps = steps.slice(1).map((level, i) => Math.abs(level - steps[i]!));
      expect(Math.max(...jumps)).toBeLessThan(0.1);
    }
  });
});

test('the three differ in number and in length of their strokes, so that rhythm alone tells them apart', () => {
  expect(URGENCIES.map((urgency) => VOICES[urgency].strokes.length)).toEqual([1, 3, 10]);
  const lengths = URGENCIES.map((urgency) => VOICES[urgency].strokes[0]!.lengthS);
  expect(lengths[0]! / lengths[1]!).toBeGreaterThan(2);
  expect(lengths[1]! / lengths[2]!).toBeGreaterThan(2);
});

test('a cue is softer than a warning, a warning than a critical one, and what rings grows louder', () => {
  const loud = URGENCIES.map((urgency) => {
    const { gain, strokes } = VOICES[urgency];
    const { atS, lengthS } = strokes[0]!;
    const rate = 16_000;
    return gain * loudness([...samplesOf(VOICES[urgency], rate)].slice(atS * rate, (atS + lengthS) * rate));
  });
  expect([...loud].sort((a, b) => a - b)).toEqual(loud);
  for (const urgency of ['warning', 'critical'] as const)
    expect(VOICES[urgency].louderGain).toBeGreaterThan(VOICES[urgency].gain);
  expect(LOUDER_AFTER_S).toBe(30);
});

describe('what the page says of its sound', () => {
  const OUTPUTS: readonly Output[] = ['none', 'suspended', 'running', 'interrupted', 'closed'];
  const ALL: readonly Hearing[] = [true, false].flatMap((isWanted) =>
    OUTPUTS.flatMap((output) =>
      [true, false].flatMap((isMoving) =>
        (['yes', 'no', null] as const).map((heard): Hearing => ({ isWanted, output, isMoving, heard })),
      ),
    ),
  );

  test(`heard, in ${ALL.length} states, only where it is asked for, runs, moves on and somebody said so`, () => {
    const heard = ALL.filter((hearing) => isHeard(soundState(hearing)));
    expect(heard).toEqual([{ isWanted: true, output: 'running', isMoving: true, heard: 'yes' }]);
  });

  test('playing only where the browser plays; and never both heard and silent', () => {
    for (const hearing of ALL) {
      const state = soundState(hearing);
      expect(isSounding(state)).toBe(hearing.isWanted && hearing.output === 'running' && hearing.isMoving);
      expect(isHeard(state) && isSilent(state)).toBe(false);
      expect(isSounding(state) || isSilent(state)).toBe(true);
    }
  });
});

describe('the read-out', () => {
  const moment = { ...NO_MOMENT, reading: { valueC: 31.62, atMs: 0, quality: 'good' as const } };

  test('says the act, the number and how it goes; no number that is not live', () => {
    const estimate = { kind: 'estimate' as const, phase: null, atMs: 0, tempC: 31.6, rateCPerMin: 0.01 };
    const still = { ...estimate, etaS: null, etaLowS: null, etaHighS: null, peakC: null };
    expect(spokenText(null, { act: 'Dip.' }, { ...moment, estimate: still }, true)).toBe('Dip. 31.6, steady.');
    const open = { ...moment, estimate: still, isRateUnknown: true };
    expect(spokenText(null, { act: 'Dip.' }, open, true)).toBe('Dip. 31.6.');
    expect(spokenText(null, { act: 'Dip.' }, moment, true)).toBe('Dip. 31.6.');
    expect(spokenText(null, { act: 'Dip.' }, moment, false)).toBe('Dip. No live reading.');
    expect(spokenText('Milk, left', { act: 'Dip.' }, moment, false)).toBe('Milk, left: Dip. No live reading.');
    expect(spokenText('Bowl 2', { act: 'Dip.' }, open, true)).toBe('Bowl 2: Dip. 31.6.');
  });

  test('comes at once, on a change, and once a minute; seconds counted in the act are no change', () => {
    const last = { act: 'Dip.', atMs: 0 };
    expect(isDue(null, last)).toBe(true);
    expect(isDue(last, { act: 'Dip.', atMs: SPOKEN_EVERY_MS - 1 })).toBe(false);
    expect(isDue(last, { act: 'Dip.', atMs: SPOKEN_EVERY_MS })).toBe(true);
    expect(isDue(last, { act: 'Warm it for 10 s.', atMs: SPOKEN_APART_MS })).toBe(true);
    expect(isDue(last, { act: 'Warm it for 10 s.', atMs: SPOKEN_APART_MS - 1 })).toBe(false);
    const silent = { act: 'No reading for 80 s.', atMs: 0 };
    expect(isDue(silent, { act: 'No reading for 95 s.', atMs: 15_000 })).toBe(false);
  });
});
