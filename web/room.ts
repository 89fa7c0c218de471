/** Whether a room is fit for coating, from its temperature and humidity. Pure; °C and per cent. */

/**
 * Magnus formula over water with the constants of Alduchov and Eskridge, J. Appl. Meteorol. 35 (1996) 601–609 (from memory), good to
 * some tenths between −40 and 50 °C.
 */
const MAGNUS_A = 17.625;
const MAGNUS_B_C = 243.04;

/** Temperature at which air of this kind begins to wet what it touches. */
export function dewPointC(roomC: number, humidityPercent: number): number {
  const gamma = Math.log(humidityPercent / 100) + (MAGNUS_A * roomC) / (MAGNUS_B_C + roomC);
  return (MAGNUS_B_C * gamma) / (MAGNUS_A - gamma);
}

/** A workroom is 18 to 22 °C (spread of the guides seen); from 24 on strips and trays hardly set (common practice, no source). */
export const FIT_C = [18, 22] as const;
export const TOO_WARM_C = 24;
/** Damper than this is too damp, per cent (common practice, no source). */
export const FIT_HUMIDITY_MAX = 60;

export type RoomFit = 'cool' | 'fit' | 'warm' | 'too-warm';

export function roomFit(roomC: number): RoomFit {
  if (roomC < FIT_C[0]) return 'cool';
  if (roomC <= FIT_C[1]) return 'fit';
  return roomC < TOO_WARM_C ? 'warm' : 'too-warm';
}

/** What a person typed, as they write numbers; null: no number, or none that a room or its air can have. */
export function typedNumber(text: string, [least, most]: readonly [number, number]): number | null {
  const value = Number(text.trim().replace(',', '.'));
  return text.trim() === '' || !Number.isFinite(value) || value < least || value > most ? null : value;
}
