/** What a check of the thermometer says of a reading, and how long it holds. */
import { uncertaintyAt, WORK_C } from '../core/check/correction.ts';
import type { ProbeCheck } from '../core/record/check.ts';
import type { Corrected } from '../core/record/run.ts';
import type { NowMessage } from '../core/show/wire.ts';

/** After this a probe is to be checked again, days. Ours: a season of use; a fall or a bend is a reason at once. */
export const OLD_AFTER_DAYS = 90;

const DAY_MS = 86_400_000;

export function isOld({ checkedAtWall }: ProbeCheck, nowWallMs: number): boolean {
  return nowWallMs - Date.parse(checkedAtWall) > OLD_AFTER_DAYS * DAY_MS;
}

/** Of the reading `valueC`, °C, or where there is none of one at the work. */
export function checkInfo({ check }: Corrected, valueC: number | null, nowWallMs: number): Pick<NowMessage, 'check'> {
  const uncertainty = uncertaintyAt(check?.points ?? [], valueC ?? WORK_C);
  if (!check || uncertainty === null) return {};
  return { check: { checkedAtWall: check.checkedAtWall, isOld: isOld(check, nowWallMs), ...uncertainty } };
}
