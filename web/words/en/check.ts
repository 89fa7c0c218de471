/** Whether the thermometer is to be believed: how to check it, how the check stands, and what a number of it is. */
import type { Steadiness } from '../../../server/core/check/steady.ts';
import type { CheckStands, NumberKnown, ProbeInUse } from '../../../server/core/check/told.ts';
import type { CheckPoint, StandardName } from '../../../server/core/record/check.ts';
import type { Correction } from '../../../server/core/record/run.ts';
import { STEADY_READINGS, STEADY_S } from '../../../server/core/show/checkable.ts';
import { inUnit, marked, unitSign } from '../manner.ts';
import { apart, bound, degrees, goal, measured } from '../measure.ts';
import { beliefWords, partsWords } from './belief.ts';

export const CHECK = {
  title: 'Can you believe your thermometer?',
  fetching: 'Asking what is known of it.',
  noneUsed: 'None of its numbers is used in this bowl. Say below what each is of.',
  stands: 'What is known of it',
  lastCheck: 'Last check',
  never: 'never: unchecked',
  which: 'Which probe',
  unchecked: 'This probe is unchecked: nobody knows how far off it is.',
  old: 'that is long ago: check it again',
  correction: 'Correction',
  none: 'none',
  apart: 'How far off',
  notKnown: 'nobody knows',
  sure: 'How sure that is',
  lag: 'Lag',
  lagUnknown: 'not measured; the command “bowlside lag” measures it by a plunge',
  lagS: (seconds: number) => `${marked(seconds.toFixed(1))} s to 63 % of a change`,
  check: 'Check it',
  port: 'Its port',
  best: `Best for chocolate: first ice, then a trusted thermometer near ${goal(32)}. Steam is for a probe that goes into hot sugar, too.`,
  cautions: [
    'Steam burns worse than boiling water does: long tongs or a clamp, sleeves and cables clear, no face over it.',
    'Only a low-voltage USB probe near water; the computer well away from splashes.',
    'Wipe the probe dry before it goes into chocolate: a drop of water makes it seize.',
  ],
  trusted: 'The trusted one reads',
  trustedWithin: 'It is right within, as its papers say',
  air: 'The air over the pot',
  altitude: 'Your altitude, m',
  station: 'Pressure at this place, hPa',
  byAltitude: 'By altitude',
  byStation: 'By a barometer here',
  stationHint:
    'Of a barometer in this room. A weather report’s pressure is reduced to sea level: at 1,000 m it would be 3.3 °C wrong.',
  altitudeHint: 'The weather moves the boiling point by half a degree either way: a barometer is better.',
  note: 'Note this point',
  points: 'Points so far',
  use: 'Use this correction',
  again: 'Begin again',
  used: 'Kept: every reading from now on is corrected by it.',
  numbers: 'What each number is',
  numbersHint: 'Where your thermometer sends ohms or millivolts, say of what sensor.',
  noLine: 'Nothing was read yet.',
  says: 'It says',
  isOf: 'It is',
  measures: 'It measures',
  kinds: {
    printed: 'a temperature, as printed',
    pt100: 'ohms of a Pt100',
    pt1000: 'ohms of a Pt1000',
    beta: 'ohms of a thermistor, by beta',
    'steinhart-hart': 'ohms of a thermistor, by A, B, C',
    k: 'millivolts of a thermocouple K',
    t: 'millivolts of a thermocouple T',
  },
  roles: { chocolate: 'the chocolate', bath: 'the bath', room: 'the room', ignored: 'nothing here' },
  ohmsAt25C: 'Ohms at 25 °C',
  betaK: 'Beta, K',
  a: 'A',
  b: 'B',
  c: 'C',
  cold: 'Its cold end',
  coldTyped: 'is as warm as I type',
  coldC: () => `Cold end, ${unitSign()}`,
  coldOf: (key: string) => `is measured by ${key}`,
  thousands: 'Where the line has no unit, in thousands (kΩ) or thousandths (µV)',
  keep: 'Keep this',
  wrong: 'A number is missing, or is none.',
} as const;

export const STANDARD: Readonly<
  Record<StandardName, { name: string; short: string; held: string; steps: readonly string[] }>
> = {
  ice: {
    name: 'In melting ice',
    short: 'ice',
    held: 'In ice',
    steps: [
      'Make ice of pure water, and crush it fine: in a towel, with a rolling pin.',
      'Pack a tall cup or flask with it to the brim, then pour in cold water only to fill the gaps. Cubes that float in water are no ice point: below them it is warmer.',
      'Stir, and wait 5 min. Pour off water and add ice as it melts.',
      'Put the tip in the middle, deep in the ice, off wall and bottom by 3 cm, and move it gently.',
    ],
  },
  thermometer: {
    name: 'Beside a trusted thermometer',
    short: 'a trusted thermometer',
    held: 'Beside a trusted thermometer',
    steps: [
      `Take a litre of water or more at ${bound(31)} to ${goal(33)}, off the heat, in something thick that holds it.`,
      'Hold both tips side by side in the middle, as deep as in chocolate, and stir all the time.',
      'When this one is said to be steady, read the trusted one, and type what it says.',
    ],
  },
  steam: {
    name: 'In steam',
    short: 'steam',
    held: 'In steam',
    steps: [
      'Boil water hard in a tall pot, no deeper than a hand is wide, the lid nearly on.',
      'Hold the tip in the steam over the water, not in it, off wall and lid. Steam has the boiling point; the water is hotter.',
      'Say how high up you are, or what a barometer here reads: the higher, the cooler water boils.',
    ],
  },
};

export function watchWords({ state, forS, readings, meanC, slopeCPerMin, spreadC }: Steadiness): string {
  if (meanC === null) return 'Nothing is read yet.';
  const reads = `It reads ${measured(meanC)}`;
  switch (state) {
    case 'waiting':
      return forS < STEADY_S
        ? `${reads}. Watched for ${Math.floor(forS)} of ${STEADY_S} s.`
        : `${reads}. It speaks seldom: ${readings} of ${STEADY_READINGS} readings so far.`;
    case 'moving':
      return `${reads}, and is still ${slopeCPerMin > 0 ? 'rising' : 'falling'} by ${apart(Math.abs(slopeCPerMin))} a minute.`;
    case 'restless':
      return `${reads}, and swings by ${apart(spreadC)}. Stir evenly, and keep the tip off the wall.`;
    case 'steady':
      return `Steady. ${reads}.`;
  }
}

export function pointWords({
  against,
  readC,
  trueC,
  withinC,
}: Omit<CheckPoint, 'spreadC' | 'stepC' | 'readings'>): string {
  return `${STANDARD[against].held}: it read ${degrees(readC)}, and should read ${measured(trueC)}, give or take ${apart(withinC)}.`;
}

export function outcomeWords(outcome: CheckStands['outcome']): string {
  switch (outcome.is) {
    case 'nothing':
      return '';
    case 'too-far-off':
      return `It is more than ${apart(outcome.mostC)} ${unitSign()} off: it is broken, or not in what you think. Nothing can be corrected by that.`;
    case 'found':
      return `Corrected, ${beliefWords(outcome.uncertainty)}. ${partsWords(outcome.uncertainty)}`;
  }
}

/** What it is in, and which number of its line it is where there are others: "The bath, number 2". */
export function probeName({ role, channel }: ProbeInUse): string {
  const name = PROBE[role];
  return channel === null ? name : `${name}, ${channelName(channel).toLowerCase()}`;
}

const PROBE = { chocolate: 'The chocolate', bath: 'The bath', room: 'The room' } as const;

function channelName(key: string): string {
  return /^#?\d+$/.test(key) ? `Number ${key.replace('#', '')}` : key;
}

/** How far off a checked probe may be: in the chocolate by an example from the work. */
export function offWords({ role, uncertainty }: ProbeInUse, atC: number): string {
  if (uncertainty === null) return CHECK.notKnown;
  if (role === 'chocolate') return beliefWords(uncertainty);
  return `Right within ${apart(uncertainty.withinC)} ${unitSign()} near ${goal(atC)}`;
}

/** The shift at 0 °C alone says little where the scale is corrected too: what it does at the work is what counts. */
export function correctionWords({ offsetC, gain }: Correction, atC: number): string {
  if (offsetC === 0 && gain === 1) return CHECK.none;
  const byC = atC - (atC - offsetC) / gain;
  const by = `${byC < 0 ? '−' : '+'}${apart(Math.abs(byC))} ${unitSign()}`;
  return gain === 1 ? by : `${by} at ${goal(atC)} (scale × ${marked(gain.toFixed(4))})`;
}

/** Number by number: what came, and what is made of it. */
export function madeWords({ key, value, unit, valueC, role }: NumberKnown): string {
  const came = `${channelName(key)}: ${marked(String(value))}${unit === null ? '' : ` ${UNIT[unit]}`}`;
  if (valueC === null) return `${came}, no temperature yet`;
  const made = unit === null && valueC === value ? '' : `, ${marked(inUnit(valueC).toFixed(2))} ${unitSign()}`;
  return `${came}${made}, ${role === null ? 'not used' : CHECK.roles[role]}`;
}

const UNIT = { ohm: 'Ω', kohm: 'kΩ', mV: 'mV', uV: 'µV' } as const;
