/**
 * What each urgency sounds like, as numbers: strokes made of partials under an envelope, and from them the samples of one round. Pure;
 * knows no loudspeaker and no alarm.
 *
 * Three kinds that differ in number, pace, pitch and colour at once, so that one of these is left on a small loudspeaker, through a
 * wall, or to an ear that has lost its high tones: one soft falling bell, three slow strokes, ten quick ones in threes and twos. The
 * numbers of strokes are those of IEC 60601-1-8 (one or two, three, ten); from summaries of it, not its text. Pitches and times are ours.
 */

export type Urgency = 'cue' | 'warning' | 'critical';

export interface Partial {
  readonly hz: number;
  /** Of the stroke's loudness; all of a stroke make 1. */
  readonly share: number;
}

export interface Stroke {
  /** From the start of the round, s. */
  readonly atS: number;
  readonly lengthS: number;
  /** A bell dies away from its first moment; a horn holds until its end. */
  readonly shape: 'bell' | 'horn';
  readonly partials: readonly Partial[];
}

export interface Voice {
  readonly strokes: readonly Stroke[];
  /** From one round to the next, s: room to speak in between. A cue has no next. */
  readonly everyS: number;
  /** Peak at first, and once nobody has come for `LOUDER_AFTER_S`; 1 is all that the output gives. */
  readonly gain: number;
  readonly louderGain: number;
}

/** Nobody has come for so long, s (field notes on alarms: a second call after half a minute). */
export const LOUDER_AFTER_S = 30;

/** Partials lie in here, Hz: under it a telephone is silent, over it the ear fades first. */
export const LOWEST_HZ = 500;
export const HIGHEST_HZ = 3_000;
/** Rise and fall of a stroke, s: short enough to be sharp, long enough not to click. */
const EDGE_S = 0.012;
/** A bell has fallen to the third part of its loudness after this share of its length. */
const BELL_FADES_AFTER = 0.3;

/** Whole multiples of a base that lie between the two bounds; the higher the softer, by 7 dB at most from first to fifth. */
function partialsOf(baseHz: number, multiples: readonly number[]): readonly Partial[] {
  const strength = multiples.map((_, i) => 1 / Math.sqrt(i + 1));
  const sum = strength.reduce((total, each) => total + each, 0);
  return multiples.map((times, i) => ({ hz: baseHz * times, share: strength[i]! / sum }));
}

const BELL_HZ = 523.25;
const HORN_HIGH_HZ = 660;
const HORN_LOW_HZ = 550;
/** Bases that are left out themselves: what is heard are the second to the sixth multiple, a rougher colour than the horn's. */
const RATTLE_HIGH_HZ = 465;
const RATTLE_LOW_HZ = 349.25;

const WHOLE = [1, 2, 3, 4, 5];
const HOLLOW = [2, 3, 4, 5, 6];

const HORN_S = 0.42;
const HORN_EVERY_S = 0.6;
const RATTLE_S = 0.11;
/** Starts of the ten quick strokes, s: three and two, and again. */
const RATTLE_AT_S = [0, 0.18, 0.36, 0.66, 0.84, 1.3, 1.48, 1.66, 1.96, 2.14];

export const VOICES: Readonly<Record<Urgency, Voice>> = {
  cue: {
    strokes: [{ atS: 0, lengthS: 1.1, shape: 'bell', partials: partialsOf(BELL_HZ, WHOLE) }],
    everyS: 1.2,
    gain: 0.3,
    louderGain: 0.3,
  },
  warning: {
    strokes: [HORN_HIGH_HZ, HORN_HIGH_HZ, HORN_LOW_HZ].map((baseHz, i) => ({
      atS: i * HORN_EVERY_S,
      lengthS: HORN_S,
      shape: 'horn',
      partials: partialsOf(baseHz, within(baseHz, WHOLE)),
    })),
    everyS: 5,
    gain: 0.5,
    louderGain: 1,
  },
  critical: {
    strokes: RATTLE_AT_S.map((atS, i) => ({
      atS,
      lengthS: RATTLE_S,
      shape: 'horn',
      partials: partialsOf(i % 5 < 3 ? RATTLE_HIGH_HZ : RATTLE_LOW_HZ, HOLLOW),
    })),
    everyS: 3.2,
    gain: 0.7,
    louderGain: 1,
  },
};

function within(baseHz: number, multiples: readonly number[]): readonly number[] {
  return multiples.filter((times) => baseHz * times >= LOWEST_HZ && baseHz * times <= HIGHEST_HZ);
}

/** Loudness of a stroke `sinceS` after its start, 0 to 1. */
export function envelope({ shape, lengthS }: Pick<Stroke, 'shape' | 'lengthS'>, sinceS: number): number {
  if (sinceS <= 0 || sinceS >= lengthS) return 0;
  const edge = Math.min(1, sinceS / EDGE_S, (lengthS - sinceS) / EDGE_S);
  return shape === 'horn' ? edge : edge * Math.exp(-sinceS / (BELL_FADES_AFTER * lengthS));
}

/** One round, silence to its end included; peaks at no more than 1. `rate`: samples per second. */
export function samplesOf(voice: Voice, rate: number): Float32Array<ArrayBuffer> {
  const samples = new Float32Array(Math.round(voice.everyS * rate));
  for (const stroke of voice.strokes) addStroke(samples, stroke, rate);
  return samples;
}

function addStroke(samples: Float32Array, stroke: Stroke, rate: number): void {
  const first = Math.round(stroke.atS * rate);
  const count = Math.min(Math.round(stroke.lengthS * rate), samples.length - first);
  for (let i = 0; i < count; i++) {
    const sinceS = i / rate;
    const wave = stroke.partials.reduce((sum, { hz, share }) => sum + share * Math.sin(2 * Math.PI * hz * sinceS), 0);
    samples[first + i]! += wave * envelope(stroke, sinceS);
  }
}
