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
  t temp temps temperature temperatures tmp celsius fahrenheit chocolate choc choco bowl bath waterbath degc degf tc
  temperatur temperatura température temperatuur teplota lämpötila lampotila hőmérséklet homerseklet sıcaklık sicaklik
  температура темп 温度 schokolade schoko chocolat cioccolato cioccolata chokolade choklad sjokolade czekolada шоколад
  wasserbad bain bano baño bagno vattenbad vandbad
`);

/** Say where a temperature is taken: enough with a decimal or a unit, not with a bare whole number. */
const PLACE_WORDS = wordSet(`
  ch chan channel probe sensor thermocouple thermo water room air ambient amb inside outside surface core object obj
  in out value val reading read pv c f k sonde fühler fuhler fuehler capteur sensore givare
  wasser eau agua acqua raum zimmer umgebung ambiente ambiante kanal canal messwert ist mass masse couverture
`);

/** Before or after "temp" they make of it another thing than the temperature now of what is in the bowl. */
const QUALIFIERS = wordSet(`
  set setpoint sp target goal limit alarm alert threshold thresh min minimum max maximum mean avg average std hyst hysteresis
  offset gain slope cal calibration coeff correction corr default initial last previous prev delta diff difference dt rate slew
  dew dewpoint dewpt wet wetbulb heatindex hi feels humidex index
  internal intern int cj cjc cjt coldjunction junction cold die so chip cpu mcu pcb board onboard reference ref core0 soc
  soll sollwert solltemp sollwerttemp consigne ziel zieltemp objetivo obiettivo börvärde taupunkt rosée rocio rugiada
  resolution precision range error err raw
`);

/** Quantities that are no temperature, or none of the present (a set point, a highest so far), and words of start-up texts. */
const OTHER_QUANTITIES = wordSet(`
  h hum humi humid humidity hygro rh moisture pressure press baro altitude alt lux light uv co2 tvoc voc iaq gas ppm ppb ph
  time timestamp ts clock date datetime millis micros uptime elapsed epoch age tick ticks
  n no nr num count counter cnt id idx seq sequence sample samples line row packet pkt frame msg record rec
  v volt volts voltage vcc vdd vbat vin vout bat batt battery soc current amp amps power watt watts energy adc ohm ohms res
  resistance r rtd mv raw cnts counts lsb bits
  rssi lqi snr dbm signal freq frequency rpm speed fan weight mass level duty pwm output heater relay pump valve
  low high lo
  version ver v1 v2 fw firmware hw hardware rev revision build sdk boot booting reset restart rst cause mode status state code
  baud port node unit addr address i2c spi gpio pin pins found device devices sensors probes interval delay
  period step timeout retry retries attempt heap free mem memory ram flash mhz ip mac ssid wifi
  errors fault faults checksum crc gravity tilt x y z
  feuchte feuchtigkeit luftfeuchte luftfeuchtigkeit rlf humidite humidité humedad umidita umidità umidade fukt fuktighet kosteus
  vochtigheid wilgotność wilgotnosc vlhkost влажность 湿度 druck luftdruck pression presion presión pressione pressao pressão trykk
  ciśnienie cisnienie tlak давление zeit uhrzeit datum hora tempo heure fecha data czas время akku batterie batteria bateria
  spannung strom zähler zaehler zahler compteur nummer
`);

/** Units, and last words of labels, of other quantities. */
const OTHER_UNITS = wordSet(`
  % %rh %rf pct percent hpa kpa pa mpa mbar mb bar mmhg inhg psi atm s sec secs second seconds ms us msec min mins minutes h hr
  hrs hours hz khz mhz mv millivolts uv µv μv v volt volts ma amps w watt watts mw kw kwh wh ohm ohms kohm kohms mohm ω kω lx lux lm ppm ppb g kg mg
  lb lbs oz l ml m cm mm km ft rpm db dbm dbi a b kb bytes cnt cnts count counts lsb adc raw bpm m/s km/h mph ug/m³ mg/m³ g/m³
  ticks steps
`);

/** Stand where a number should: they spoil their own value only. */
export const NO_VALUE =
  /[+-]?(?:nan|inf(?:inity)?|null|none|ovl|n\/a|n\.a\.|o\.l\.?|\*{2,}|\?{2,}|_{2,})(?![A-Za-z0-9_])/iy;

const FAULT_WORDS = wordSet(`
  nan inf infinity null none ovl ol err error errors open fault faulty short shorted fail failed failure disconnected
  unplugged broken missing invalid overrange underrange overload over under oc scg scv undef undefined na
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
      .some((word) => isFaultWord(word) && word !== 'over' && word !== 'under' && word !== 'na')
  );
}

/** A unit per minute or second is a rate, whatever it is of. */
export function isOtherUnit(word: string): boolean {
  return OTHER_UNITS.has(word) || /[a-z°]\/(?:s|sec|min|h|hr)$/.test(word);
}

/** The parts of a label, in lower case: `Bath_temp1` and `bathTemp1` are bath, temp. Digits at the end number a thing and name nothing. */
export function partsOf(label: string): readonly string[] {
  const known = met.get(label);
  if (known !== undefined) return known;
  const parts = newParts(label);
  if (met.size < MET_MOST) met.set(label, parts);
  return parts;
}

/** The labels met so far, up to so many (ours: a thermometer has few): each is taken apart once, not with every line. */
const MET_MOST = 256;
const met = new Map<string, readonly string[]>();

function newParts(label: string): string[] {
  const parts = label
    .replace(/(\p{Ll})(?=\p{Lu})/gu, '$1 ')
    .toLowerCase()
    .split(/[^\p{L}0-9%°]+/u);
  return parts
    .map((part) => (part === 'co2' || part === 'i2c' ? part : part.replace(/\d+$/, '')))
    .filter((part) => part !== '')
    .flatMap(withoutTemp);
}

function isWordOfOurs(part: string): boolean {
  return CLEAR_WORDS.has(part) || PLACE_WORDS.has(part) || QUALIFIERS.has(part) || OTHER_QUANTITIES.has(part);
}

/** `roomtemp`, `tempc`, `tmax`: two words written as one. */
function withoutTemp(part: string): string[] {
  if (isWordOfOurs(part) || part.startsWith('temper')) return [part];
  if (part.startsWith('t') && isWordOfOurs(part.slice(1))) return ['t', part.slice(1)];
  if (part.startsWith('temp')) return ['temp', part.slice(4)];
  return part.endsWith('temp') ? [part.slice(0, -4), 'temp'] : [part];
}

/**
 * Names another quantity: a qualifier anywhere decides (`max temp`, `t1-t2`); any word of another quantity does unless the last one is
 * clearly a temperature (`sample temp`). A letter beside a word numbers a thing (`Probe A`).
 */
export function isOtherLabel(label: string): boolean {
  const parts = partsOf(label);
  const last = parts.at(-1) ?? '';
  if (parts.some((part) => QUALIFIERS.has(part)) || /[a-z]\d*-[a-z]+\d/i.test(label)) return true;
  if (CLEAR_WORDS.has(last)) return false;
  const isWord = (part: string) => part.length > 1 || parts.length === 1 || part === '%';
  const unit = isWord(last) && (parts.length > 1 || last.length > 1) && OTHER_UNITS.has(last);
  return unit || parts.some((part) => (isWord(part) && OTHER_QUANTITIES.has(part)) || part.startsWith('%'));
}

/** Says "temperature" so clearly that a whole number without a unit is believed. */
export function isClearLabel(label: string): boolean {
  return partsOf(label).some((part) => CLEAR_WORDS.has(part));
}

/** Nothing in it but words that name a temperature or its place: no sentence happens to be that. */
export function isPlainLabel(label: string): boolean {
  return partsOf(label).every((part) => CLEAR_WORDS.has(part) || PLACE_WORDS.has(part) || /^\d+$/.test(part));
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
  return scaleNamed(last);
}

/** Things that come numbered: in `probe 1 31.4` the 1 belongs to the label. */
export function isNumberedThing(word: string): boolean {
  return (
    word === 'ch' || word === 'chan' || word === 'channel' || word === 'probe' || word === 'sensor' || word === 'tc'
  );
}
