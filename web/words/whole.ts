/** Temperatures in whole degrees. */
import { inUnit } from './manner.ts';

/** A temperature nobody needs to the tenth: a bath. */
export function whole(valueC: number): string {
  return String(Math.round(inUnit(valueC)));
}
