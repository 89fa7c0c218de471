/**
 * A line's numbers made temperatures by what a person said they are: after the line has been read, before its channels get their roles.
 * Knows no line and no role; what is sent without a word said about it is left as it is, unless the line says that it is no temperature.
 */
import type { ElectricUnit, Sensor, Sensors } from '../record/sensor.ts';
import { platinumC } from '../sensor/platinum.ts';
import { betaC, steinhartHartC } from '../sensor/thermistor.ts';
import { thermocoupleC } from '../sensor/thermocouple.ts';
import { type Channel, type LineReading, refused } from './channel.ts';

/** In ohms and in mV. */
const SIZE: Readonly<Record<ElectricUnit, number>> = { ohm: 1, kohm: 1000, mV: 1, uV: 0.001 };

const NOTHING_SAID: Sensors = {};

/**
 * The same line with each channel in °C. A number that no such sensor gives, as of a broken wire, leaves its channel without a value; the
 * line is refused where no other is left.
 */
export function sensed(read: LineReading, sensors: Sensors = NOTHING_SAID): LineReading {
  if (!read.ok || (sensors === NOTHING_SAID && !read.channels.some(isElectric))) return read;
  const channels = read.channels.flatMap((channel): Channel[] => {
    const valueC = celsiusOf(channel, sensors, read.channels);
    return valueC === null ? [] : [{ key: channel.key, valueC }];
  });
  if (channels.length > 0) return { ...read, channels };
  return refused(read.channels.some(({ key }) => saidOf(key, sensors) !== null) ? 'implausible' : 'not-a-temperature');
}

function isElectric({ electric }: Channel): boolean {
  return electric !== undefined;
}

function saidOf(key: string, sensors: Sensors): Sensor | null {
  return Object.hasOwn(sensors, key) ? sensors[key]! : null;
}

/** `beside`: the channels of the line, the cold end among them. */
function celsiusOf(
  { key, valueC: value, electric }: Channel,
  sensors: Sensors,
  beside: readonly Channel[],
): number | null {
  const sensor = saidOf(key, sensors);
  if (sensor === null) return electric === undefined ? value : null;
  if (sensor.kind === 'printed') return value;
  const size = value * SIZE[electric ?? sensor.unit];
  switch (sensor.kind) {
    case 'platinum':
      return platinumC(size, sensor.ohmsAt0C);
    case 'steinhart-hart':
      return steinhartHartC(size, sensor);
    case 'beta':
      return betaC(size, sensor);
    case 'thermocouple': {
      const { cold, type } = sensor;
      const coldC = cold.from === 'typed' ? cold.tempC : coldEndC(cold.channel, sensors, beside);
      return coldC === null ? null : thermocoupleC(size, type, coldC);
    }
  }
}

/** A cold end is measured by anything but another thermocouple. */
function coldEndC(key: string, sensors: Sensors, beside: readonly Channel[]): number | null {
  const cold = beside.find((channel) => channel.key === key);
  const isCouple = saidOf(key, sensors)?.kind === 'thermocouple';
  return cold === undefined || isCouple ? null : celsiusOf(cold, sensors, beside);
}

/** What a resistance is most likely of, Ω: platinum between its values at −50 and 200 °C, of the two usual sizes (ours). */
const PT100_OHMS = [80, 176] as const;
const PT1000_OHMS = [800, 1760] as const;

/** What somebody may mean who sends this: proposed, never assumed. */
export function likelySensor(value: number, unit: ElectricUnit): Sensor {
  if (unit === 'mV' || unit === 'uV')
    return { kind: 'thermocouple', unit, type: 'K', cold: { from: 'typed', tempC: 22 } };
  const ohms = value * SIZE[unit];
  const isWithin = ([low, high]: readonly [number, number]): boolean => ohms >= low && ohms <= high;
  if (isWithin(PT100_OHMS)) return { kind: 'platinum', unit, ohmsAt0C: 100 };
  if (isWithin(PT1000_OHMS)) return { kind: 'platinum', unit, ohmsAt0C: 1000 };
  return { kind: 'beta', unit, ohmsAt25C: 10_000, betaK: 3950 };
}
