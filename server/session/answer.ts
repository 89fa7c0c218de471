/** What a session says to a command, and to whatever else a person asks of a bowl. */
import { MOST_VALUES } from '../core/reading/channel.ts';

/** Why a command was not taken. `unfit`: not at this moment; `wrong`: never. */
export type CommandAnswer = { readonly ok: true } | Refused;

export interface Refused {
  readonly ok: false;
  readonly because: 'unfit' | 'wrong';
  readonly detail: string;
}

export function unfit(detail: string): Refused {
  return { ok: false, because: 'unfit', detail };
}

export const NO_THERMOMETER = 'No thermometer is read.';

/** Of as many channels of one thermometer something may be said: what is said of them stays. */
export const NAMED_MOST = MOST_VALUES;
export const TOO_MANY_NAMED = `Something was said of ${NAMED_MOST} channels of this thermometer already, as many as a line may have. Nothing can be said of another one.`;

/** T4: nobody's word stands against a temperature at which no seed can be left. */
export function noSeedLeft({ tempC, lostC }: { readonly tempC: number; readonly lostC: number }): string {
  return `It is at ${tempC.toFixed(1)} °C, and over ${lostC} °C no seed is left: it cannot be in temper. Is it melted, or still solid?`;
}
