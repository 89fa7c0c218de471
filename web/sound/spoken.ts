/** What the read-out says, and when: for eyes that are on the bowl. Pure. */
import { degrees, trend } from '../words/measure.ts';
import { NUMBER } from '../words/page.ts';
import type { Moment, Sentence } from '../words/sentence.ts';

/** Said again after so long with nothing changed, ms. Ours. */
export const SPOKEN_EVERY_MS = 60_000;
/** Two sayings are at least so far apart, ms: a sentence takes about three seconds. Ours. */
export const SPOKEN_APART_MS = 5_000;

export interface Spoken {
  readonly act: string;
  readonly atMs: number;
}

/** Which bowl, where there are several (`bowl` null: it is the only one), then act line, number and trend; no number that is not live. */
export function spokenText(
  bowl: string | null,
  { act }: Pick<Sentence, 'act'>,
  { reading, estimate, isRateUnknown }: Moment,
  isLive: boolean,
): string {
  const said = bowl === null ? act : `${bowl}: ${act}`;
  if (!isLive || reading === null) return `${said} ${NUMBER.notLive}`;
  const words = estimate === null || isRateUnknown === true ? '' : `, ${trend(estimate.rateCPerMin).words}`;
  return `${said} ${degrees(reading.valueC)}${words}.`;
}

/** At the first moment, when the act changes, and once a minute. Seconds counted in an act are no change of it. */
export function isDue(last: Spoken | null, now: Spoken): boolean {
  if (last === null) return true;
  const sinceMs = now.atMs - last.atMs;
  if (sinceMs < SPOKEN_APART_MS) return false;
  return sinceMs >= SPOKEN_EVERY_MS || withoutFigures(now.act) !== withoutFigures(last.act);
}

function withoutFigures(act: string): string {
  return act.replaceAll(/\d+/g, '');
}
