/**
 * The words met on a thermometer's wire: labels that mean a temperature, labels and units that mean something else, and words
 * for a fault. Spelling only; how they combine is read elsewhere. All in lower case.
 */
import { type Scale, scaleNamed } from './scale.ts';

function wordSet(words: string): ReadonlySet<string> {
  return new Set(words.trim().split(/\s+/));
}

/** Say "temperature" by themselves: even a whole number after them is one. */
const CLEAR_WORDS = wordSet(`
  t temp temps temperature temperatures tmp celsius fahrenheit chocolate choc bowl bath degc degf tempc tempf
`);

/** Say where a temperature is taken: enough with a decimal or a unit, not with a bare whole number. */
const PLACE_WORDS = wordSet(`
  ch chan channel probe sensor tc thermocouple thermo water room air ambient amb inside outside surface core object obj
  in out value val reading pv c f
`);

/** Quantities that are no temperature, or none of the present (a set point, a highest so far), and words of start-up texts. */
const OTHER_QUANTITIES = wordSet(`
  h hum humi humid humidity rh moisture dew pressure press baro altitude alt lux light co2 tvoc voc gas ppm ppb ph
  time timestamp ts clock date millis micros uptime elapsed epoch age
  n no nr num count counter cnt id idx index seq sequence sample samples line row packet msg
  v volt volts voltage vcc vdd vbat bat batt battery current amp amps power watt watts raw adc ohm ohms res resistance r
  rssi snr dbm signal freq frequency rpm speed weight mass level duty pwm output
  set setpoint sp target limit alarm alert min max minimum maximum mean std hyst hysteresis offset gain slope cal calibration coeff
  version ver v1 v2 fw firmware hw hardware rev revision build sdk boot booting reset restart rst cause mode status state code
  baud port addr address i2c spi gpio pin pins found device devices sensors probes resolution precision bits interval delay
  period rate step timeout retry retries attempt heap free mem memory ram flash chip cpu core0 mhz ip mac ssid wifi
  err error errors fault faults checksum crc
`);

/** Units, and last words of labels, of other quantities. */
const OTHER_UNITS = wordSet(`
  % %rh pct percent hpa kpa pa mbar bar mmhg psi s sec secs second seconds ms us msec min mins h hr hz khz mhz
  mv volt volts ma amps w mw kw ohm ohms kohm lx lux ppm ppb g kg mg l ml m cm mm rpm db dbm v a b kb
`);

/** Stand where a number should: they spoil their own value only. */
export const NO_VALUE = /[+-]?(?:nan|inf(?:inity)?|null|none|ovl|n\/a)(?![A-Za-z0-9_])/iy;

const FAULT_WORDS = wordSet(`
  nan inf infinity null none ovl err error errors open fault faulty short shorted fail failed failure disconnected
  unplugged broken missing invalid overrange underrange
`);

/** Dashes in place of digits: `----`, `--.-`; a lone one at the end of the line. */
const DASHES = /-[-.]*-|[\s:=,;]-$/;

export function isFaultWord(word: string): boolean {
  return FAULT_WORDS.has(word);
}

/** Whether a device tells of a fault anywhere in this text. */
export function hasFaultWord(text: string): boolean {
  return (
    DASHES.test(text) ||
    text
      .toLowerCase()
      .split(/[^a-z]+/)
      .some(isFaultWord)
  );
}

export function isOtherUnit(word: string): boolean {
  return OTHER_UNITS.has(word);
}

/** The parts of a label, in lower case: `Bath_temp1` is bath, temp. Digits at the end number a thing and name nothing. */
export function partsOf(label: string): string[] {
  const parts = label.toLowerCase().split(/[^a-z0-9%°]+/);
  return parts
    .map((part) => (part === 'co2' || part === 'i2c' ? part : part.replace(/\d+$/, '')))
    .filter((part) => part !== '');
}

/** Names another quantity: unless its last word is clearly a temperature (`sample temp`), any such word decides. */
export function isOtherLabel(label: string): boolean {
  const parts = partsOf(label);
  const last = parts.at(-1) ?? '';
  if (CLEAR_WORDS.has(last)) return false;
  const unit = parts.length > 1 && OTHER_UNITS.has(last);
  return unit || parts.some((part) => OTHER_QUANTITIES.has(part) || part.startsWith('%'));
}

/** Says "temperature" so clearly that a whole number without a unit is believed. */
export function isClearLabel(label: string): boolean {
  return partsOf(label).some((part) => CLEAR_WORDS.has(part));
}

/** A label that needs no colon before its value. */
export function isKnownLabel(label: string): boolean {
  return partsOf(label).some((part) => CLEAR_WORDS.has(part) || PLACE_WORDS.has(part));
}

/** The scale a label carries: `Temp (F)`, `temp_c`, `tempF`, `F` alone. `K` alone is rather a kind of thermocouple. */
export function scaleOfLabel(label: string): Scale | null {
  const parts = partsOf(label);
  const last = parts.at(-1) ?? '';
  if (last === 'k' && parts.length === 1) return null;
  if (last === 'tempf') return 'F';
  return last === 'tempc' ? 'C' : scaleNamed(last);
}

/** Things that come numbered: in `probe 1 31.4` the 1 belongs to the label. */
export function isNumberedThing(word: string): boolean {
  return (
    word === 'ch' || word === 'chan' || word === 'channel' || word === 'probe' || word === 'sensor' || word === 'tc'
  );
}
