/** Before the work: where the tip belongs, how sure an unchecked thermometer is, and whether the room is fit. */
import { dewPointC, FIT_C, FIT_HUMIDITY_MAX, roomFit, TOO_WARM_C } from '../../room.ts';
import { bound, degrees, goal } from '../measure.ts';
import { unitSign } from '../manner.ts';

export const BEFORE = {
  title: 'Before you begin',
  probe: 'Tip 2 cm deep, in the middle, off the wall.',
  clean: 'Probe washed, and dry to the last drop.',
  picture: 'A bowl cut through: the tip of the probe two centimetres deep, in the middle, clear of wall and bottom.',
  deep: '2 cm',
  room: 'Room',
  humidity: 'Humidity, %',
  measured: 'Measured in the room now.',
} as const;

/** "Room, °C" */
export function roomLabel(): string {
  return `${BEFORE.room}, ${unitSign()}`;
}

/** What an unchecked thermometer of a degree and a half either way means at the work, said where it matters. */
const UNCHECKED_C = { at: 31.4, low: 30, high: 33 };

export function uncheckedWords(): string {
  const { at, low, high } = UNCHECKED_C;
  return `Your thermometer is unchecked: ${degrees(at)} may be ${bound(low)} or ${bound(high)}. Hold it in melting ice first: it should say ${degrees(0)}.`;
}

/** Temperature first, then the air; what it means and what to do. */
export function roomWords(roomC: number, humidity: number | null): readonly string[] {
  const air = humidity === null ? [] : airWords(roomC, humidity);
  return [ROOM_WORDS[roomFit(roomC)](roomC), ...air];
}

const ROOM_WORDS: Readonly<Record<ReturnType<typeof roomFit>, (roomC: number) => string>> = {
  cool: () => `Cool: the bowl falls fast. ${goal(FIT_C[0])} to ${bound(FIT_C[1])} is right.`,
  fit: () => 'Right for coating.',
  warm: () => `Warm: it sets slowly. ${goal(FIT_C[0])} to ${bound(FIT_C[1])} is right.`,
  'too-warm': () =>
    `${goal(TOO_WARM_C)} and more is too warm: strips and trays hardly set, and go dull. Cool the room first.`,
};

function airWords(roomC: number, humidity: number): readonly string[] {
  const dew = `Dew point ${goal(Math.round(dewPointC(roomC, humidity)))}: what is colder sweats here, and sugar bloom follows.`;
  return humidity > FIT_HUMIDITY_MAX ? [dew, `Over ${FIT_HUMIDITY_MAX} % is too damp for coating.`] : [dew];
}
