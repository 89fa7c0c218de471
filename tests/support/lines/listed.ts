/** Formats whose values are told apart by their place or their frame: lists, headings, JSON, sentences, logs, several lines a moment. */
import { fixed, c, f, fromF, comma, pad, clock, xor, hex, one, several, first, both, NOTHING } from './format.ts';
import type { LineFormat } from './format.ts';

export const LISTED: readonly LineFormat[] = [
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
];
