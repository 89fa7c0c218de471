/** How the probe of a run was corrected and checked, and how far off it may be: the same words on paper and in tables. */
import { uncertaintyAt, WORK_C } from '../core/check/correction.ts';
import { apart, bound, day, figure, type Manner, shift, unitSign } from './manner.ts';
import type { Fact } from './paper.ts';
import { checkOf, correctionChange, type ToldRun } from './told-run.ts';

export function probeFacts(told: ToldRun, manner: Manner): Fact[] {
  return [
    ['Correction', correctionWords(told, manner)],
    ['Last check', lastCheck(told)],
    ['Uncertainty', uncertaintyWords(told, manner)],
  ];
}

function correctionWords({ header, stored }: ToldRun, manner: Manner): string {
  const { offsetC, gain } = correctionChange(stored.events) ?? header.correction;
  if (offsetC === 0 && gain === 1) return 'none';
  const by = shift(offsetC, manner);
  return gain === 1 ? by : `${by}, times ${figure(gain, 4, manner)}`;
}

/** Of the probe as it was used last: before the run, or in it. */
function lastCheck(told: ToldRun): string {
  const check = checkOf(told);
  if (check === null) return told.stored.simulated ? 'none: a simulated bowl' : 'none: the thermometer is unchecked';
  return `${day(Date.parse(check.checkedAtWall))}: ${check.points.map(({ against }) => against).join(', ')}`;
}

/** In number and in what it is made of: the same all the time, and from reading to reading. */
function uncertaintyWords(told: ToldRun, manner: Manner): string {
  const found = uncertaintyAt(checkOf(told)?.points ?? [], WORK_C);
  if (found === null) return 'not known';
  const { withinC, biasC, noiseC } = found;
  const within = `±${apart(withinC, manner)} ${unitSign(manner)} at ${bound(WORK_C, manner)} (k = 2)`;
  return `${within}: bias ${apart(biasC, manner)}, noise ${apart(noiseC, manner)}`;
}
