/** What a session says to a command, and to whatever else a person asks of a bowl. */

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

/** T4: nobody's word stands against a temperature at which no seed can be left. */
export function noSeedLeft({ tempC, lostC }: { readonly tempC: number; readonly lostC: number }): string {
  return `It is at ${tempC.toFixed(1)} °C, and over ${lostC} °C no seed is left: it cannot be in temper. Is it melted, or still solid?`;
}
