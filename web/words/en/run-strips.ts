/** What the strips over a run say: chocolate that may be too warm, what was missed. Pure. */
import type { NowMessage } from '../../../server/core/show/wire.ts';
import { saidTempC } from '../../said-temperature.ts';
import { bound, degrees, shown, span } from '../measure.ts';
import type { Moment } from './sentence.ts';

/** Once a run is over, what is in the bowl may be too warm for what nobody has said that it is. */
export function carefulStrip(careful: NonNullable<NowMessage['careful']>, now: Moment): string {
  return `Off the heat. ${overWords(careful, now)}`;
}

/** "47.0 is over 46, the ceiling for white." An old number is told as one. */
export function overWords(careful: NonNullable<NowMessage['careful']>, now: Moment): string {
  const limit = `${bound(careful.limitC)}, the ceiling for ${careful.coating}.`;
  const tempC = saidTempC(now) ?? now.reading?.valueC ?? null;
  if (tempC === null || now.stale) return `Was over ${limit}`;
  return `${degrees(tempC)} is ${overOrAt(tempC, careful.limitC)} ${limit}`;
}

/** As the shown figures say it: inside the dead band it may be neither over nor at. */
function overOrAt(tempC: number, limitC: number): string {
  const [value, limit] = [shown(tempC), shown(limitC)];
  if (value > limit) return 'over';
  return value === limit ? 'at' : 'just under';
}

/** For a minute after a power cut: how long nothing was read. */
export function carriedOnWords(goneS: number): string {
  return `Carried on after ${span(goneS)} without Bowlside. The gap stays a gap.`;
}
