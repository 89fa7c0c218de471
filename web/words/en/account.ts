/** What happened in a run, told from its account in the words of the trade: one line for each thing worth knowing, in the order it happened. Pure. */
import type { Account, Stay } from '../../../server/core/show/account.ts';
import { apart, bound, degrees } from '../measure.ts';
import { lasted } from '../lasted.ts';
import { phaseName } from '../names.ts';

export interface AccountLine {
  readonly text: string;
  /** `off`: not as the profile wants it. */
  readonly weight: 'as-wanted' | 'off';
  /** The moment on the curve that shows it; null: of the run as a whole. */
  readonly atMs: number | null;
}

/** Shorter stays outside of a bound are the estimate's own doubt, s (ours). */
const WORTH_TELLING_S = 5;
/** So much of the work in the lower half of the band is worth a line, as a share (ours). */
const LOW_SHARE = 0.5;

export function accountLines(account: Account): readonly AccountLine[] {
  return [...account.stays.flatMap(stayLines), ...wholeLines(account)];
}

function stayLines(stay: Stay): AccountLine[] {
  const told = [stay.heading === 'hold' ? workLine(stay) : wayLine(stay)];
  const off = (text: string, atMs: number | null): AccountLine => ({ text, weight: 'off', atMs });
  for (const { kind, overS, peakC, peakAtMs } of stay.ceilings)
    if (overS >= WORTH_TELLING_S && peakC !== null)
      told.push(off(`${lasted(overS)} over the ${kind} ceiling, ${degrees(peakC)} at most.`, peakAtMs));
  if (stay.underFloorS >= WORTH_TELLING_S && stay.lowestC !== null)
    told.push(off(`${lasted(stay.underFloorS)} under the floor, ${degrees(stay.lowestC)} at least.`, stay.lowestAtMs));
  return told;
}

/** Of a phase that leads somewhere: whether it got there, and stayed as long as it should. */
function wayLine(stay: Stay): AccountLine {
  const { phase, heading, bandC, enteredAtMs, reached, keptS, holdS } = stay;
  const name = phaseName(phase);
  const extremeC = heading === 'down' ? stay.lowestC : stay.highestC;
  const atMs = (heading === 'down' ? stay.lowestAtMs : stay.highestAtMs) ?? enteredAtMs;
  if (extremeC === null) return { text: `${name}: nothing was read.`, weight: 'off', atMs };
  const where = `${heading === 'down' ? 'down' : 'up'} to ${degrees(extremeC)} in ${lasted(stay.lastedS)}`;
  if (!reached) {
    const band = `${bound(bandC[0])} to ${bound(bandC[1])}`;
    return { text: `${name}: ${where}, never in the band of ${band}.`, weight: 'off', atMs };
  }
  if (keptS < holdS) {
    return {
      text: `${name}: ${where}; kept there ${lasted(keptS)} of ${lasted(holdS)}.`,
      weight: 'off',
      atMs,
    };
  }
  return { text: `${name}: ${where}${holdS > 0 ? `, kept there ${lasted(keptS)}` : ''}.`, weight: 'as-wanted', atMs };
}

/** A share of what was read: of the rest nobody knows. */
function workLine({ phase, lastedS, unseenS, highestC, insideBandS, enteredAtMs }: Stay): AccountLine {
  const name = phaseName(phase);
  if (highestC === null)
    return { text: `${name}: ${lasted(lastedS)}, nothing was read.`, weight: 'off', atMs: enteredAtMs };
  // Each of these is rounded to whole seconds by itself.
  const readS = Math.max(1, lastedS - unseenS);
  const share = Math.min(100, Math.round((100 * insideBandS) / readS));
  const what = unseenS >= WORTH_TELLING_S ? `what was read, all but ${lasted(unseenS)},` : 'it';
  return {
    text: `${name}: ${lasted(lastedS)}, ${share} % of ${what} in the band.`,
    weight: share >= 90 ? 'as-wanted' : 'off',
    atMs: enteredAtMs,
  };
}

/** What was over in one stay alone has been said of that stay. */
function wholeLines({ stays, workReadS, lowHalfS, unseenS, overByC, overS }: Account): AccountLine[] {
  const told: AccountLine[] = [];
  if (workReadS > 0 && lowHalfS > LOW_SHARE * workReadS)
    told.push({ text: `Held ${lasted(lowHalfS)} in the lower half of the band or below.`, weight: 'off', atMs: null });
  if (unseenS >= WORTH_TELLING_S)
    told.push({ text: `Nothing was read for ${lasted(unseenS)}.`, weight: 'off', atMs: null });
  if (overS < WORTH_TELLING_S && told.length === 0 && workReadS > 0)
    told.push({ text: 'Never over the working ceiling.', weight: 'as-wanted', atMs: null });
  else if (overS >= WORTH_TELLING_S && stays.every((stay) => workingOverS(stay) < overS))
    told.push({
      text: `In all ${lasted(overS)} over the working ceiling, by ${apart(overByC)} at most.`,
      weight: 'off',
      atMs: null,
    });
  return told;
}

function workingOverS({ ceilings }: Stay): number {
  return ceilings.reduce((sum, { kind, overS }) => (kind === 'working' ? sum + overS : sum), 0);
}
