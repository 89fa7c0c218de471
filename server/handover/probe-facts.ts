/** How the probes of a run were corrected and checked, and how far off they may be: the same words on paper and in tables. */
import { uncertaintyAt, WORK_C } from '../core/check/correction.ts';
import { apart, bound, day, figure, type Manner, shift, unitSign } from './manner.ts';
import type { Fact } from './paper.ts';
import { type ToldProbe, toldProbes, type ToldRun } from './told-run.ts';

export function probeFacts(told: ToldRun, manner: Manner): Fact[] {
  return toldProbes(told).flatMap((probe): Fact[] => {
    const of = probe.channel === null ? '' : `, ${probe.channel}`;
    return [
      [`Correction${of}`, correctionWords(probe, manner)],
      [`Last check${of}`, lastCheck(probe, told.stored.simulated)],
      [`Uncertainty${of}`, uncertaintyWords(probe, manner)],
    ];
  });
}

function correctionWords({ correction: { offsetC, gain } }: ToldProbe, manner: Manner): string {
  if (offsetC === 0 && gain === 1) return 'none';
  const by = shift(offsetC, manner);
  return gain === 1 ? by : `${by}, times ${figure(gain, 4, manner)}`;
}

/** Of the probe as it was used last: before the run, or in it. */
function lastCheck({ check, channel }: ToldProbe, isSimulated: boolean): string {
  if (check) return `${day(Date.parse(check.checkedAtWall))}: ${check.points.map(({ against }) => against).join(', ')}`;
  if (isSimulated) return 'none: a simulated bowl';
  return channel === null ? 'none: the thermometer is unchecked' : 'none: this channel is unchecked';
}

/** In number and in what it is made of: the same all the time, and from reading to reading. */
function uncertaintyWords({ check }: ToldProbe, manner: Manner): string {
  const found = uncertaintyAt(check?.points ?? [], WORK_C);
  if (found === null) return 'not known';
  const { withinC, biasC, noiseC } = found;
  const within = `±${apart(withinC, manner)} ${unitSign(manner)} at ${bound(WORK_C, manner)} (k = 2)`;
  return `${within}: bias ${apart(biasC, manner)}, noise ${apart(noiseC, manner)}`;
}
