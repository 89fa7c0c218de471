/** Formats of one value or a few, each with its word: numbers alone, units, labels. */
import { fixed, c, f, fromF, comma, utf8, one, first, both } from './format.ts';
import type { LineFormat } from './format.ts';

export const WORDED: readonly LineFormat[] = [
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
];
