/** What a run says of its bowl before anything is read of it. */
import type { Baths } from './courses.ts';
import { MELTING_FROM_C } from './stretch.ts';

export interface Expectations {
  readonly plausibleC: readonly [lowC: number, highC: number];
  /** The lowest bound of any phase, °C: what is calm about there or below may be the room. */
  readonly lowestBoundC: number;
  /** The probe's lag, seconds; null: not measured. */
  readonly lagS: number | null;
  /** What earlier runs taught of the bowl. */
  readonly baths: Baths;
  /** The time constant of its wall, seconds, as earlier runs saw it; null: none did. */
  readonly wallS: number | null;
  /** Whether there is anything to melt. */
  readonly melting: 'solid' | 'perhaps' | 'none';
}

/** Solid pieces come cold: a bowl first seen warm has none, unless somebody says so. */
export function isMoltenAtFirst(valueC: number, { melting }: Expectations): boolean {
  return melting === 'none' || (melting === 'perhaps' && valueC > MELTING_FROM_C);
}
