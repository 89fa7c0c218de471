/** Values that are no temperature of this bowl, whatever it did before: refused before anybody asks whether they fit. */
import type { RejectReason } from '../record/event.ts';

/** The value some digital sensors give until their first conversion, °C (domain §5.7), and how close counts as it. */
const POWER_ON_C = 85;
const POWER_ON_MARGIN_C = 0.06;
/** A jump to the power-on value further than this from the reading before is no temperature, °C. Ours. */
const POWER_ON_JUMP_C = 5;

/** What was heard before: nothing but power-on values since the link came up, and the last value, °C; null before the first. */
interface Heard {
  readonly fresh: boolean;
  readonly valueC: number | null;
}

/** null: it may be one. `plausibleC`: lowest and highest that the profile leaves room for, °C. */
export function refusal(
  heard: Heard,
  valueC: number,
  plausibleC: readonly [lowC: number, highC: number],
): RejectReason | null {
  if (!(valueC >= plausibleC[0] && valueC <= plausibleC[1])) return 'implausible';
  const powerOn = Math.abs(valueC - POWER_ON_C) < POWER_ON_MARGIN_C;
  const jumped = heard.valueC === null || Math.abs(valueC - heard.valueC) > POWER_ON_JUMP_C;
  return powerOn && (heard.fresh || jumped) ? 'power-on-value' : null;
}
