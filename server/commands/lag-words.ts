/** What `bowlside lag` says to the person with the probe in hand, in plain words. */
import type { MeasuredLag, NoLag } from '../core/bowl/plunge.ts';

/** Before anything is done. */
export function instructions(label: string): string[] {
  return [
    `Reading ${label}.`,
    'Have ready: melted chocolate at 40 to 45 °C, or warm water, off the heat and well stirred.',
    'Hot water scalds and steam burns: 50 °C is hot enough. Keep cables and the computer away from water.',
    'Lay the dry probe in the room, away from hands, sun and steam, until it is said here to be steady.',
  ];
}

export function steadyWords(restC: number): string {
  return `Steady at ${degrees(restC)}. Now plunge it, at one go and as deep as in the bowl, and keep stirring with it.`;
}

export function plungedWords(restC: number): string {
  return `Seen: it has left ${degrees(restC)}. Keep it moving, in the middle, until it is steady again.`;
}

export function settledWords(toC: number): string {
  return `Steady at ${degrees(toC)}. Wipe the probe dry before it goes into chocolate: a drop of water makes it seize.`;
}

/** The lag, what it rests on, and the flag to pass as the last line. `remembered`: it was kept for this thermometer. */
export function lagWords(lag: MeasuredLag, remembered: boolean): string[] {
  const flag = `To use it: --probe-lag ${seconds(lag.lagS)}`;
  return [
    `The probe’s lag is ${seconds(lag.lagS)} s; what the readings leave open: ${seconds(lag.lowS)} to ${seconds(lag.highS)} s.`,
    ...riseWords(lag),
    'It is the lag in what the probe was plunged into. Melted chocolate is slower than water, 2 to 4 times (an estimate of ours).',
    remembered ? `${flag} (it is remembered for this thermometer)` : flag,
  ];
}

function riseWords({ rise, to63S, by90S, ratio, fromC, toC }: MeasuredLag): string[] {
  const step = `the step from ${degrees(fromC)} to ${degrees(toC)}`;
  const reckoned = `63.2 % of ${step} took ${seconds(to63S)} s; the time to 90 %, divided by 2.303, is ${seconds(by90S)} s.`;
  const odd = `90 % took ${ratio.toFixed(1)} times as long as 50 %; it would be 3.3 times for a simple probe.`;
  switch (rise) {
    case 'first-order':
      return [reckoned];
    case 'soaking':
      return [reckoned, `${odd} The heat has to soak in first. The number to use is the one from 90 %.`];
    case 'trailing':
      return [
        reckoned,
        `${odd} It was slow at the end, as if it had not been kept moving. Do it again; if it stays so, the number to use is the one from 63.2 %.`,
      ];
  }
}

/** Why there is no lag, and what to do about it, in one line. */
export function noLagWords(none: NoLag): string {
  switch (none.why) {
    case 'never-steady':
      return 'The reading was never steady before a plunge. Lay the dry probe down in the room and let it rest for longer.';
    case 'no-plunge':
      return `No plunge was seen after the probe had come to rest at ${degrees(none.restC)}. It has to rest in the room for 10 s, then go into something warm.`;
    case 'still-changing':
      return `The reading was still changing at the end, by ${none.cPerMin.toFixed(1)} °C a minute. Either the readings end too early, or what it was plunged into was itself warming or cooling: take it off the heat, stir, and do it again.`;
    case 'small-step':
      return `The step was ${degrees(Math.abs(none.stepC))}: too small for this thermometer, ${Math.ceil(none.wantedC)} °C would do.`;
    case 'few-readings':
      return `The lag is under ${seconds(Math.ceil(none.underS * 10) / 10)} s. The readings are too far apart to say more.`;
    case 'gap':
      return `No reading came for ${seconds(none.gapS)} s during the rise, so nobody knows how it went. Look at the cable, and do it again.`;
  }
}

function degrees(tempC: number): string {
  return `${tempC.toFixed(1)} °C`;
}

function seconds(value: number): string {
  return value.toFixed(1);
}
