/**
 * Ways in which a board, a meter, a stick or a logger may write what it measures: of our own making, none copied from a device. Each says
 * what is meant by what it writes, so that a reading can be called right or wrong.
 */
import type { Moment } from './kitchen.ts';

/** Temperatures that are meant, °C, as written (so after rounding), by the key of their channel. */
export type Meant = Readonly<Record<string, number>>;

export interface Written {
  readonly lines: readonly string[];
  /** For each line. */
  readonly meant: readonly Meant[];
}

export interface LineFormat {
  readonly name: string;
  /** Nothing in the lines can tell: to be asked is right. */
  readonly asks?: boolean;
  /** None of it is a temperature. */
  readonly none?: boolean;
  /** What comes before the first moment. */
  readonly heading?: readonly string[];
  readonly write: (moment: Moment) => Written;
}

const fixed = (value: number, decimals: number) => value.toFixed(decimals);
const c = (value: number, decimals = 2) => Number(value.toFixed(decimals));
const f = (valueC: number) => valueC * 1.8 + 32;
/** °C for a value in °F as written. */
const fromF = (value: number) => ((value - 32) * 5) / 9;
const comma = (text: string) => text.replace('.', ',');
const pad = (value: number | string, width: number) => String(value).padStart(width);
const clock = (atMs: number) => new Date(Date.UTC(2026, 4, 3, 9, 12, 7) + atMs).toISOString();
const xor = (text: string) => Array.from(text, (char) => char.charCodeAt(0)).reduce((sum, byte) => sum ^ byte, 0);
const hex = (byte: number) => byte.toString(16).toUpperCase().padStart(2, '0');
const utf8 = (text: string) => String.fromCharCode(...new TextEncoder().encode(text));

function one(
  name: string,
  line: (m: Moment) => string,
  meant: (m: Moment) => Meant,
  more: Partial<LineFormat> = {},
): LineFormat {
  return { name, write: (m) => ({ lines: [line(m)], meant: [meant(m)] }), ...more };
}

function several(
  name: string,
  write: (m: Moment) => readonly (readonly [string, Meant])[],
  more: Partial<LineFormat> = {},
) {
  return {
    name,
    write: (m: Moment) => {
      const all = write(m);
      return { lines: all.map(([line]) => line), meant: all.map(([, meant]) => meant) };
    },
    ...more,
  };
}

const first = (decimals: number) => (m: Moment) => ({ 1: c(m.chocolateC, decimals) });
const both = (decimals: number) => (m: Moment) => ({ 1: c(m.chocolateC, decimals), 2: c(m.bathC, decimals) });
const NOTHING: Meant = {};

export const FORMATS: readonly LineFormat[] = [
  // A number and nothing else.
  one('bare, two decimals', (m) => fixed(m.chocolateC, 2), first(2)),
  one('bare, one decimal', (m) => fixed(m.chocolateC, 1), first(1)),
  one('bare, four decimals', (m) => fixed(m.chocolateC, 4), first(4)),
  one('bare, whole', (m) => fixed(m.chocolateC, 0), first(0)),
  one('bare, signed and padded', (m) => `  +${fixed(m.chocolateC, 2)}  `, first(2)),
  one('bare, leading noughts', (m) => `+${fixed(m.chocolateC, 1).padStart(6, '0')}`, first(1)),
  one(
    'bare, exponent',
    (m) => `+${m.chocolateC.toExponential(5).replace('e+1', 'E+01')}`,
    (m) => ({ 1: Number(m.chocolateC.toExponential(5)) }),
  ),
  one('bare, behind a prompt', (m) => `> ${fixed(m.chocolateC, 2)}`, first(2)),
  one('bare, in brackets', (m) => `<${fixed(m.chocolateC, 2)}>`, first(2)),
  one('bare, decimal comma, one decimal', (m) => comma(fixed(m.chocolateC, 1)), first(1)),
  one(
    'bare, decimal comma, steps of a sixteenth',
    (m) => comma(fixed(Math.round(m.chocolateC * 16) / 16, 4)),
    (m) => ({ 1: c(Math.round(m.chocolateC * 16) / 16, 4) }),
  ),
  // Units.
  one('unit glued', (m) => `${fixed(m.chocolateC, 2)}C`, first(2)),
  one('unit apart', (m) => `${fixed(m.chocolateC, 1)} C`, first(1)),
  one('degree sign, one byte', (m) => `${fixed(m.chocolateC, 2)}\u00b0C`, first(2)),
  one('degree sign, UTF-8', (m) => utf8(`${fixed(m.chocolateC, 2)} °C`), first(2)),
  one('degree sign of an old display', (m) => `${fixed(m.chocolateC, 1)}\u00dfC`, first(1)),
  one(
    'degree sign as an asterisk',
    (m) => `Temperature = ${fixed(m.chocolateC, 2)} *C`,
    (m) => ({ temperature: c(m.chocolateC) }),
  ),
  one('degree sign as an apostrophe', (m) => `${fixed(m.chocolateC, 1)} 'C`, first(1)),
  one(
    'degree sign as a letter',
    (m) => `Temp: ${fixed(m.chocolateC, 1)} oC`,
    (m) => ({ temp: c(m.chocolateC, 1) }),
  ),
  one('deg C', (m) => `${fixed(m.chocolateC, 2)} deg C`, first(2)),
  one(
    'degrees written out',
    (m) => `Temperature is ${fixed(m.chocolateC, 2)} degrees C`.replace(' is', ':'),
    (m) => ({ temperature: c(m.chocolateC) }),
  ),
  one(
    'Fahrenheit',
    (m) => `${fixed(f(m.chocolateC), 1)} F`,
    (m) => ({ 1: fromF(c(f(m.chocolateC), 1)) }),
  ),
  one(
    'kelvin',
    (m) => `${fixed(m.chocolateC + 273.15, 2)} K`,
    (m) => ({ 1: c(m.chocolateC + 273.15) - 273.15 }),
  ),
  one('decimal comma and unit', (m) => `${comma(fixed(m.chocolateC, 2))} °C`, first(2)),
  // Labels.
  one(
    'T:',
    (m) => `T: ${fixed(m.chocolateC, 2)}`,
    (m) => ({ t: c(m.chocolateC) }),
  ),
  one(
    'T=…C',
    (m) => `T=${fixed(m.chocolateC, 2)}C`,
    (m) => ({ t: c(m.chocolateC) }),
  ),
  one(
    't=',
    (m) => `t=${fixed(m.chocolateC, 2)}`,
    (m) => ({ t: c(m.chocolateC) }),
  ),
  one(
    'label and decimal comma',
    (m) => `Temperatur: ${comma(fixed(m.chocolateC, 2))}`,
    (m) => ({ temperatur: c(m.chocolateC) }),
  ),
  one(
    'a label in UTF-8',
    (m) => utf8(`Température : ${comma(fixed(m.chocolateC, 1))} °C`),
    (m) => ({ température: c(m.chocolateC, 1) }),
  ),
  one(
    'a label nobody knows',
    (m) => `Zonde A: ${fixed(m.chocolateC, 2)}`,
    (m) => ({ 'zonde a': c(m.chocolateC) }),
  ),
  one(
    'several probes, numbered',
    (m) => `T1: ${fixed(m.chocolateC, 1)} T2: ${fixed(m.bathC, 1)} T3: ${fixed(m.roomC, 1)}`,
    (m) => ({ t1: c(m.chocolateC, 1), t2: c(m.bathC, 1), t3: c(m.roomC, 1) }),
  ),
  one(
    'k=v, comma',
    (m) => `choc=${fixed(m.chocolateC, 2)},bath=${fixed(m.bathC, 2)}`,
    (m) => ({ choc: c(m.chocolateC), bath: c(m.bathC) }),
  ),
  one(
    'k:v, semicolons, other words first',
    (m) => `Wasserbad:${fixed(m.bathC, 1)};Schokolade:${fixed(m.chocolateC, 1)};`,
    (m) => ({ wasserbad: c(m.bathC, 1), schokolade: c(m.chocolateC, 1) }),
  ),
  one(
    'an address for a label',
    (m) => `28ff641e8216c3a1: ${fixed(m.chocolateC, 2)}`,
    (m) => ({ '28ff641e8216c3a1': c(m.chocolateC) }),
  ),
  one(
    'numbered sensors in brackets',
    (m) => `Sensor[0] = ${fixed(m.chocolateC, 2)} C, Sensor[1] = ${fixed(m.bathC, 2)} C`,
    (m) => ({ 'sensor 0': c(m.chocolateC), 'sensor 1': c(m.bathC) }),
  ),
  one(
    'C and F with labels',
    (m) => `Temp C: ${fixed(m.chocolateC, 2)} Temp F: ${fixed(f(m.chocolateC), 2)}`,
    (m) => ({ temp: c(m.chocolateC) }),
  ),
  one(
    'temp_c and temp_f',
    (m) => `temp_c=${fixed(m.chocolateC, 2)} temp_f=${fixed(f(m.chocolateC), 2)}`,
    (m) => ({ temp_c: c(m.chocolateC) }),
  ),
  one(
    'C and F behind one label',
    (m) => `Temperature: ${fixed(m.chocolateC, 2)} °C / ${fixed(f(m.chocolateC), 2)} °F`.replace(' / ', ' '),
    (m) => ({ temperature: c(m.chocolateC) }),
  ),
  one(
    'humidity, temperature, heat index',
    (m) =>
      `Humidity: ${fixed(m.humidity, 2)} %\tTemperature: ${fixed(m.chocolateC, 2)} *C ${fixed(f(m.chocolateC), 2)} *F\tHeat index: ${fixed(m.chocolateC + 1.2, 2)} *C ${fixed(f(m.chocolateC + 1.2), 2)} *F`,
    (m) => ({ temperature: c(m.chocolateC) }),
  ),
  one(
    'temperature and humidity, labels',
    (m) => `T: ${fixed(m.chocolateC, 1)} H: ${fixed(m.humidity, 1)}`,
    (m) => ({ t: c(m.chocolateC, 1) }),
  ),
  one('temperature, humidity, units', (m) => `${fixed(m.chocolateC, 1)} C, ${fixed(m.humidity, 1)} %`, first(1)),
  one(
    'weather, units',
    (m) => `${fixed(m.pressureHpa, 2)} hPa  ${fixed(m.humidity, 1)} %RH  ${fixed(m.chocolateC, 2)} °C`,
    first(2),
  ),
  one(
    'set point and value, labels',
    (m) => `SP=${fixed(m.setC, 1)} PV=${fixed(m.chocolateC, 1)} OUT=${m.counts % 100}%`,
    (m) => ({ pv: c(m.chocolateC, 1) }),
  ),
  one(
    'target temp and temp',
    (m) => `targetTemp:${fixed(m.setC, 1)},temp:${fixed(m.chocolateC, 1)}`,
    (m) => ({ temp: c(m.chocolateC, 1) }),
  ),
  one(
    'internal and thermocouple',
    (m) => `Internal: ${fixed(m.roomC, 2)} Thermocouple: ${fixed(m.chocolateC, 2)}`,
    (m) => ({ thermocouple: c(m.chocolateC) }),
  ),
  one(
    'ambient and object',
    (m) => `Ambient = ${fixed(m.roomC, 2)}*C\tObject = ${fixed(m.chocolateC, 2)}*C`,
    (m) => ({ ambient: c(m.roomC), object: c(m.chocolateC) }),
  ),
  one(
    'min and max beside it',
    (m) => `Temp: ${fixed(m.chocolateC, 1)} Min: 20.1 Max: 47.9`,
    (m) => ({ temp: c(m.chocolateC, 1) }),
  ),
  one(
    'a difference beside two probes',
    (m) => `T1:${fixed(m.chocolateC, 1)}C T2:${fixed(m.bathC, 1)}C T1-T2:${fixed(m.chocolateC - m.bathC, 1)}C`,
    (m) => ({ t1: c(m.chocolateC, 1), t2: c(m.bathC, 1) }),
  ),
  one(
    'battery and signal beside it',
    (m) => `temp=${fixed(m.chocolateC, 2)} batt=${fixed(m.batteryV, 2)} rssi=${m.rssi}`,
    (m) => ({ temp: c(m.chocolateC) }),
  ),
  one(
    'raw counts and volts beside it',
    (m) => `raw: ${m.counts} voltage: 0.49 temperature: ${fixed(m.chocolateC, 2)}`,
    (m) => ({ temperature: c(m.chocolateC) }),
  ),
  one(
    'a counter with a name',
    (m) => `#${m.n} temp ${fixed(m.chocolateC, 2)}`.replace('#', 'sample='),
    (m) => ({ temp: c(m.chocolateC) }),
  ),
  one(
    'both scales, a stroke between',
    (m) => `Temp: ${fixed(m.chocolateC, 1)}C / ${fixed(f(m.chocolateC), 1)}F`,
    (m) => ({ temp: c(m.chocolateC, 1) }),
  ),
  one('both scales, brackets', (m) => `${fixed(m.chocolateC, 2)} °C (${fixed(f(m.chocolateC), 2)} °F)`, first(2)),
  one('strokes', (m) => `${fixed(m.chocolateC, 2)}/${fixed(m.bathC, 2)}`, both(2)),
  one(
    'a sentence',
    (m) => `The current temperature is ${fixed(m.chocolateC, 2)} C`,
    (m) => ({ 'the current temperature': c(m.chocolateC) }),
  ),
  // Lists without a word.
  one('comma', (m) => `${fixed(m.chocolateC, 2)},${fixed(m.bathC, 2)}`, both(2)),
  one('comma and blank', (m) => `${fixed(m.chocolateC, 1)}, ${fixed(m.bathC, 1)}`, both(1)),
  one('semicolon', (m) => `${fixed(m.chocolateC, 1)};${fixed(m.bathC, 1)}`, both(1)),
  one('semicolon and decimal commas', (m) => comma(`${fixed(m.chocolateC, 1)};`) + comma(fixed(m.bathC, 1)), both(1)),
  one('tab', (m) => `${fixed(m.chocolateC, 2)}\t${fixed(m.bathC, 2)}`, both(2)),
  one('padded columns', (m) => `${pad(fixed(m.chocolateC, 2), 9)}${pad(fixed(m.bathC, 2), 9)}`, both(2)),
  one('bars', (m) => `${fixed(m.chocolateC, 2)} | ${fixed(m.bathC, 2)}`, both(2)),
  one('tuple', (m) => `(${fixed(m.chocolateC, 2)}, ${fixed(m.bathC, 2)})`, both(2)),
  one('tuple of one', (m) => `(${fixed(m.chocolateC, 2)},)`, first(2)),
  one('list', (m) => `[${fixed(m.chocolateC, 2)}, ${fixed(m.bathC, 2)}]`, both(2)),
  one('quoted', (m) => `"${fixed(m.chocolateC, 2)}","${fixed(m.bathC, 2)}"`, both(2)),
  one('comma at the end', (m) => `${fixed(m.chocolateC, 2)},${fixed(m.bathC, 2)},`, both(2)),
  one('decimal commas, four pieces', (m) => `${comma(fixed(m.chocolateC, 2))} ${comma(fixed(m.bathC, 2))}`, both(2)),
  one('°C and °F, no word', (m) => `${fixed(m.chocolateC, 2)},${fixed(f(m.chocolateC), 2)}`, first(2)),
  one('°F and °C, no word', (m) => `${fixed(f(m.chocolateC), 2)} ${fixed(m.chocolateC, 2)}`, first(2)),
  one('counter first', (m) => `${m.n},${fixed(m.chocolateC, 2)}`, first(2)),
  one('counter last', (m) => `${fixed(m.chocolateC, 2)} ${m.n}`, first(2)),
  one('milliseconds first', (m) => `${m.atMs},${fixed(m.chocolateC, 2)}`, first(2)),
  one('seconds first', (m) => `${fixed(m.atMs / 1000, 1)}\t${fixed(m.chocolateC, 2)}`, first(2)),
  one('whole seconds first', (m) => `${Math.floor(m.atMs / 1000)};${fixed(m.chocolateC, 2)}`, first(2)),
  one('minutes first', (m) => `${fixed(m.atMs / 60_000, 3)} ${fixed(m.chocolateC, 2)}`, first(2)),
  one('epoch seconds first', (m) => `${1_780_000_000 + Math.floor(m.atMs / 1000)} ${fixed(m.chocolateC, 2)}`, first(2)),
  one('time of day first', (m) => `${clock(m.atMs).slice(11, 19)} ${fixed(m.chocolateC, 2)}`, first(2)),
  one('date and time, ISO', (m) => `${clock(m.atMs)},${fixed(m.chocolateC, 2)}`, first(2)),
  one(
    'date and time, dots, decimal comma',
    (m) =>
      `${clock(m.atMs).slice(8, 10)}.${clock(m.atMs).slice(5, 7)}.2026 ${clock(m.atMs).slice(11, 19)};${comma(fixed(m.chocolateC, 1))}`,
    first(1),
  ),
  one(
    'date and time, strokes, half days',
    (m) =>
      `${clock(m.atMs).slice(5, 7)}/${clock(m.atMs).slice(8, 10)}/2026 ${clock(m.atMs).slice(11, 19)} AM, ${fixed(m.chocolateC, 1)}`,
    first(1),
  ),
  one('number of the device first', (m) => `3 ${fixed(m.chocolateC, 2)}`, first(2)),
  one('number of the device, two probes', (m) => `12,${fixed(m.chocolateC, 2)},${fixed(m.bathC, 2)}`, both(2)),
  one('set point first', (m) => `${fixed(m.setC, 2)},${fixed(m.chocolateC, 2)}`, first(2)),
  one('pressure behind', (m) => `${fixed(m.chocolateC, 2)},${fixed(m.pressureHpa, 2)}`, first(2)),
  one('counts first', (m) => `${m.counts} ${fixed(m.chocolateC, 2)}`, first(2)),
  one(
    'counter, counts, temperature, state',
    (m) => `${m.n};${m.counts};${fixed(m.chocolateC, 2)};${m.n % 3 === 0 ? 1 : 0}`,
    first(2),
  ),
  one(
    'whole humidity first',
    (m) => `${fixed(m.humidity + (m.n % 2), 0)},${fixed(m.chocolateC, 2)}`,
    (m) => ({ 1: c(m.chocolateC), 2: c(m.chocolateC) }),
    { asks: true },
  ),
  one('value, unit in a cell of its own', (m) => `${fixed(m.chocolateC, 1)},C`, first(1)),
  one('two whole values, blank', (m) => `${fixed(m.chocolateC, 0)} ${fixed(m.bathC, 0)}`, both(0), { asks: true }),
  // Headings.
  one(
    'headings, comma',
    (m) => `${m.n},${fixed(m.chocolateC, 2)},${fixed(m.humidity, 1)}`,
    (m) => ({ temp: c(m.chocolateC) }),
    { heading: ['n,temp,hum'] },
  ),
  one(
    'headings, units in brackets',
    (m) => `${fixed(m.atMs / 1000, 2)};${fixed(f(m.chocolateC), 2)};${fixed(m.humidity, 1)}`,
    (m) => ({ temp: fromF(c(f(m.chocolateC))) }),
    { heading: ['Time [s];Temp [°F];RH [%]'] },
  ),
  one(
    'headings, humidity first',
    (m) => `${fixed(m.humidity, 1)}\t${fixed(m.chocolateC, 1)}`,
    (m) => ({ temperature: c(m.chocolateC, 1) }),
    { heading: ['Humidity\tTemperature'] },
  ),
  one(
    'headings, German, decimal commas',
    (m) => `${clock(m.atMs).slice(11, 19)};${comma(fixed(m.bathC, 1))};${comma(fixed(m.chocolateC, 1))}`,
    (m) => ({ wasserbad: c(m.bathC, 1), schokolade: c(m.chocolateC, 1) }),
    { heading: ['Uhrzeit;Wasserbad;Schokolade'] },
  ),
  // JSON and what looks like it.
  one(
    'JSON',
    (m) => `{"temp":${c(m.chocolateC)},"hum":${c(m.humidity)}}`,
    (m) => ({ temp: c(m.chocolateC) }),
  ),
  one(
    'JSON, several',
    (m) => `{"t":${m.atMs},"chocolate":${c(m.chocolateC)},"bath":${c(m.bathC)},"battery":${c(m.batteryV)}}`,
    (m) => ({ chocolate: c(m.chocolateC), bath: c(m.bathC) }),
  ),
  one(
    'JSON, nested',
    (m) => `{"choc":{"temp":${c(m.chocolateC)}},"room":{"temp":${c(m.roomC)},"hum":${c(m.humidity)}}}`,
    (m) => ({ 'choc.temp': c(m.chocolateC), 'room.temp': c(m.roomC) }),
  ),
  one(
    'JSON, texts with units',
    (m) => `{"id":7,"temperature":"${fixed(f(m.chocolateC), 2)} F"}`,
    (m) => ({ temperature: fromF(c(f(m.chocolateC))) }),
  ),
  one(
    'JSON, both scales',
    (m) => `{"celsius":${c(m.chocolateC)},"fahrenheit":${c(f(m.chocolateC))}}`,
    (m) => ({ celsius: c(m.chocolateC) }),
  ),
  one(
    'dictionary of a scripting board',
    (m) => `{'temperature': ${fixed(m.chocolateC, 2)}, 'humidity': ${fixed(m.humidity, 1)}, 'ok': True}`,
    (m) => ({ temperature: c(m.chocolateC) }),
  ),
  one('JSON array', (m) => `[${c(m.chocolateC, 3)},${c(m.bathC, 3)}]`, both(3)),
  // Sentences.
  one(
    'a sentence with its sum',
    (m) =>
      `$TEMP,${fixed(m.chocolateC, 2)},${fixed(m.bathC, 2)}*${hex(xor(`TEMP,${fixed(m.chocolateC, 2)},${fixed(m.bathC, 2)}`))}`,
    both(2),
  ),
  one(
    'a sentence with a unit',
    (m) => `$WXMTA,${fixed(m.chocolateC, 1)},C*${hex(xor(`WXMTA,${fixed(m.chocolateC, 1)},C`))}`,
    first(1),
  ),
  one(
    'a label and a sum',
    (m) => `T=${fixed(m.chocolateC, 2)}*${hex(xor(`T=${fixed(m.chocolateC, 2)}`))}`,
    (m) => ({ t: c(m.chocolateC) }),
  ),
  // Logs.
  one(
    'a log with seconds',
    (m) => `[${pad(fixed(m.atMs / 1000, 3), 10)}] temp: ${fixed(m.chocolateC, 2)} C`,
    (m) => ({ temp: c(m.chocolateC) }),
  ),
  one(
    'a log with a level',
    (m) => `INFO: probe 1 ${fixed(m.chocolateC, 2)}`,
    (m) => ({ 'probe 1': c(m.chocolateC) }),
  ),
  one(
    'a log of a board',
    (m) => `I (${m.atMs}) main: T1=${fixed(m.chocolateC, 2)} T2=${fixed(m.bathC, 2)}`,
    (m) => ({ t1: c(m.chocolateC), t2: c(m.bathC) }),
  ),
  // Several lines a moment.
  several('two lines, named', (m) => [
    [`Humidity: ${fixed(m.humidity, 1)} %`, NOTHING],
    [`Temperature: ${fixed(m.chocolateC, 1)} C`, { temperature: c(m.chocolateC, 1) }],
  ]),
  several('a block with rules', (m) => [
    ['--------------------', NOTHING],
    [`Reading no. ${m.n}`, NOTHING],
    [`Bowl:  ${fixed(m.chocolateC, 2)} C`, { bowl: c(m.chocolateC) }],
    [`Bath:  ${fixed(m.bathC, 2)} C`, { bath: c(m.bathC) }],
    [`Battery: ${fixed(m.batteryV, 2)} V`, NOTHING],
  ]),
  several('two probes on lines of their own', (m) => [
    [`Sensor 2: ${fixed(m.bathC, 2)}`, { 'sensor 2': c(m.bathC) }],
    [`Sensor 1: ${fixed(m.chocolateC, 2)}`, { 'sensor 1': c(m.chocolateC) }],
  ]),
  several('a converter line by line', (m) => [
    [`RTD value: ${8000 + m.counts}`, NOTHING],
    [`Ratio = 0.2${m.counts}8857`, NOTHING],
    [`Resistance = ${fixed(100 + 0.385 * m.chocolateC, 4)}`, NOTHING],
    [`Temperature = ${fixed(m.chocolateC, 2)}`, { temperature: c(m.chocolateC) }],
  ]),
  several('label above its value', (m) => [
    ['Temperature:', NOTHING],
    [fixed(m.chocolateC, 2), { temperature: c(m.chocolateC) }],
    ['Humidity:', NOTHING],
    [fixed(m.humidity, 2), NOTHING],
  ]),
  // None of it a temperature.
  one(
    'a counter alone',
    (m) => String(m.n),
    () => NOTHING,
    { none: true },
  ),
  one(
    'milliseconds alone',
    (m) => String(m.atMs),
    () => NOTHING,
    { none: true },
  ),
  one(
    'pressure and humidity',
    (m) => `P: ${fixed(m.pressureHpa, 1)} hPa RH: ${fixed(m.humidity, 1)} %`,
    () => NOTHING,
    { none: true },
  ),
  one(
    'a place from above',
    (m) =>
      `$GPGGA,1235${19 + (m.n % 40)},4807.038,N,01131.000,E,1,08,0.9,545.4,M,46.9,M,,*${hex(xor(`GPGGA,1235${19 + (m.n % 40)},4807.038,N,01131.000,E,1,08,0.9,545.4,M,46.9,M,,`))}`,
    () => NOTHING,
    { none: true },
  ),
  // Two meanings.
  one(
    'whole, comma, whole humidity',
    (m) => `${fixed(m.chocolateC, 0)},${fixed(m.humidity, 0)}`,
    (m) => ({ 1: c(m.chocolateC, 0), 2: c(m.humidity, 0) }),
    { asks: true },
  ),
  one(
    'bare, decimal comma, two decimals, still',
    (m) => `31,${42 + (m.n % 2)}`,
    (m) => ({ 1: c(31.42 + 0.01 * (m.n % 2)) }),
    { asks: true },
  ),
];
