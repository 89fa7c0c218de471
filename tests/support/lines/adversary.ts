/**
 * Thermometers put together by chance: which values, in which order, under which labels of which language, with what between them; and
 * what comes between the lines: banners, menus, logs, torn lines, faults, resets. Seeded. Only what a careful person could tell, too.
 */
import { type Moment, moments, seeded } from './kitchen.ts';

export interface Adversary {
  readonly seed: number;
  /** In words, for a failing test. */
  readonly name: string;
  readonly lines: readonly AdversaryLine[];
}

export interface AdversaryLine {
  readonly atMs: number;
  readonly text: string;
  /** What the chocolate is by this line, °C as written; null: the line says nothing of it. */
  readonly chocolateC: number | null;
  /** Every temperature in the line that is one, °C as written. */
  readonly temperaturesC: readonly number[];
}

type Random = () => number;

function pick<T>(random: Random, from: readonly T[]): T {
  return from[Math.floor(random() * from.length)]!;
}

interface Value {
  readonly kind: string;
  readonly text: string;
  /** °C as written; null: no temperature. */
  readonly valueC: number | null;
}

interface Manner {
  readonly decimals: number;
  readonly comma: boolean;
  readonly fahrenheit: boolean;
}

/** What may stand beside the chocolate where nothing is labelled: each shows by its values what it is. */
const UNLABELLED = [
  'count',
  'ms',
  'seconds',
  'clock',
  'pressure',
  'counts',
  'rssi',
  'setting',
  'device',
  'twin',
  'bath',
] as const;
/** And where everything is. */
const LABELLED = [...UNLABELLED, 'humidity', 'battery', 'room', 'state', 'dew', 'max'] as const;
type Kind = (typeof LABELLED)[number] | 'chocolate';

/** Labels in several languages; the first ones of temperatures leave their place open. */
const LABELS: Readonly<Record<Kind, readonly string[]>> = {
  chocolate: [
    'T',
    'Temp',
    'T1',
    'temperature',
    'Chocolate',
    'choc',
    'bowl',
    'Schokolade',
    'chocolat',
    'Temperatur',
    'ch1',
    'tempBowl',
    'probe1',
    'PV',
  ],
  bath: ['bath', 'Wasserbad', 'water', 'bain', 'bath_temp', 'waterTemp'],
  room: ['room', 'ambient', 'Raum', 'air', 'roomTemp', 'ambiente'],
  twin: ['Temp F', 'temp_f', 'tempF'],
  count: ['n', 'count', 'seq', 'sample', 'Nr', 'id'],
  ms: ['ms', 'millis', 'time', 'uptime', 'timestamp'],
  seconds: ['s', 'seconds', 'Zeit', 'elapsed', 'time'],
  clock: ['time', 'clock', 'Uhrzeit', 'hora'],
  pressure: ['pressure', 'P', 'Luftdruck', 'pression'],
  counts: ['raw', 'adc', 'counts', 'ADC0'],
  rssi: ['rssi', 'RSSI', 'snr'],
  setting: ['set', 'SP', 'target', 'Soll', 'setpoint', 'consigne', 'target_temp', 'setTemp'],
  device: ['id', 'addr', 'device', 'node'],
  humidity: ['H', 'hum', 'Humidity', 'RH', 'Feuchte', 'humidite', 'humedad'],
  battery: ['batt', 'bat', 'Vbat', 'battery', 'Akku', 'VCC'],
  state: ['state', 'relay', 'heater', 'alarm', 'status'],
  dew: ['dew point', 'dew', 'heat index', 'Taupunkt'],
  max: ['max', 'Max temp', 'Tmax', 'min', 'avg'],
};

function fixed(value: number, { decimals, comma }: Manner, more = decimals): string {
  const text = value.toFixed(more);
  return comma ? text.replace('.', ',') : text;
}

/** A temperature as written, and what that is in °C. */
function temperature(kind: Kind, valueC: number, manner: Manner): Value {
  if (!manner.fahrenheit) return { kind, text: fixed(valueC, manner), valueC: Number(valueC.toFixed(manner.decimals)) };
  const written = Number((valueC * 1.8 + 32).toFixed(manner.decimals));
  return { kind, text: fixed(written, manner), valueC: ((written - 32) * 5) / 9 };
}

function valueOf(kind: Kind, m: Moment, manner: Manner): Value {
  const other = (text: string): Value => ({ kind, text, valueC: null });
  switch (kind) {
    case 'chocolate':
      return temperature(kind, m.chocolateC, manner);
    case 'bath':
      return temperature(kind, m.bathC, manner);
    case 'room':
      return temperature(kind, m.roomC, manner);
    case 'twin':
      return other(fixed(Number(m.chocolateC.toFixed(manner.decimals)) * 1.8 + 32, manner));
    case 'count':
      return other(String(m.n));
    case 'ms':
      return other(String(m.atMs));
    case 'seconds':
      return other(fixed(m.atMs / 1000, manner, 1));
    case 'clock':
      return other(new Date(Date.UTC(2026, 2, 9, 7, 5) + m.atMs).toISOString().slice(11, 19));
    case 'pressure':
      return other(fixed(m.pressureHpa, manner, 1));
    case 'counts':
      return other(String(m.counts));
    case 'rssi':
      return other(String(m.rssi));
    case 'setting':
      return other(fixed(m.setC, manner));
    case 'device':
      return other('7');
    case 'humidity':
      return other(fixed(m.humidity, manner, 1));
    case 'battery':
      return other(fixed(m.batteryV, manner, 2));
    case 'state':
      return other(m.n % 5 === 0 ? '1' : '0');
    case 'dew':
      return other(fixed(m.chocolateC - 14, manner));
    case 'max':
      return other(fixed(47.9, manner));
  }
}

const UNITS: Readonly<Partial<Record<Kind, readonly string[]>>> = {
  pressure: [' hPa', 'hPa', ' mbar'],
  humidity: [' %', '%', ' %RH'],
  battery: [' V', 'V'],
  rssi: [' dBm'],
  ms: [' ms', 'ms'],
  seconds: [' s', 's'],
};
const CELSIUS = ['C', ' C', ' °C', '°C', ' deg C', '\u00b0C', ' *C', 'degC'] as const;
const FAHRENHEIT = ['F', ' F', ' °F', ' deg F'] as const;

/** One way of writing a line. */
interface Writer {
  readonly name: string;
  readonly heading: string | null;
  readonly write: (m: Moment) => { readonly text: string; readonly values: readonly Value[] };
}

function utf8(text: string): string {
  return String.fromCharCode(...new TextEncoder().encode(text));
}

function shuffled<T>(random: Random, all: readonly T[]): T[] {
  const left = [...all];
  return all.map(() => left.splice(Math.floor(random() * left.length), 1)[0]!);
}

function writerOf(random: Random): Writer {
  const isLabelled = random() < 0.6;
  const beside = shuffled(random, isLabelled ? LABELLED : UNLABELLED).slice(0, Math.floor(random() * 4));
  let kinds: Kind[] = shuffled(random, ['chocolate', ...beside]);
  const hasTwin = kinds.includes('twin');
  // Unlabelled, the first temperature is the chocolate; and one clock is enough.
  if (!isLabelled && kinds.includes('bath')) kinds = [...kinds.filter((kind) => kind !== 'bath'), 'bath'];
  const clocks: readonly Kind[] = kinds.filter((kind) => kind === 'ms' || kind === 'seconds' || kind === 'clock');
  kinds = kinds.filter((kind) => !clocks.slice(1).includes(kind));
  const style = pick(random, isLabelled ? (['=', ':', ': ', ' ', 'json', 'heading'] as const) : (['list'] as const));
  const between =
    style === 'json'
      ? ','
      : pick(
          random,
          style === '=' || style === 'list' || style === 'heading'
            ? [',', ', ', ';', '\t', ' ', ' | ']
            : [', ', '; ', '\t', ' | '],
        );
  const isCommaFree = !between.includes(',');
  const hasUnits = isLabelled ? random() < 0.4 : random() < 0.3;
  const manner: Manner = {
    decimals: 1 + Math.floor(random() * 2),
    comma: isCommaFree && style !== 'json' && random() < 0.3,
    fahrenheit:
      hasUnits && style !== 'heading' && !hasTwin && !kinds.includes('setting') && style !== 'json' && random() < 0.2,
  };
  const labels = new Map(kinds.map((kind) => [kind, pick(random, LABELS[kind])]));
  if (style === 'heading' && between === ' ' && [...labels.values()].some((label) => label.includes(' ')))
    return writerOf(random);
  if (new Set([...labels.values()].map((label) => label.toLowerCase())).size < labels.size) return writerOf(random);
  const unit = pick(random, manner.fahrenheit ? FAHRENHEIT : CELSIUS);
  const units = new Map(kinds.map((kind) => [kind, UNITS[kind] === undefined ? '' : pick(random, UNITS[kind])]));
  const isTemperature = (kind: Kind) =>
    kind === 'chocolate' ||
    kind === 'bath' ||
    kind === 'room' ||
    kind === 'dew' ||
    kind === 'max' ||
    kind === 'setting';
  const unitOf = (kind: Kind) =>
    !hasUnits || style === 'json' || style === 'heading'
      ? ''
      : isTemperature(kind) && isLabelled
        ? unit
        : kind === 'chocolate' || kind === 'bath'
          ? unit
          : isLabelled
            ? units.get(kind)!
            : '';
  const end = pick(random, ['', '', '', between.trim() === '' ? '' : between.trim()]);
  const piece = ({ kind, text }: Value): string => {
    const value = text + unitOf(kind as Kind);
    const label = labels.get(kind as Kind)!;
    if (style === 'list' || style === 'heading') return value;
    if (style === 'json') return `"${label}":${kind === 'clock' ? `"${text}"` : String(Number(text))}`;
    return `${label}${style}${value}`;
  };
  return {
    name: `${style} ${JSON.stringify(between)} ${kinds.join('+')}${manner.comma ? ' comma' : ''}${hasUnits ? ` units${unit}` : ''} ${manner.decimals}`,
    heading: style === 'heading' ? kinds.map((kind) => labels.get(kind)!).join(between) : null,
    write: (m) => {
      const values = kinds.map((kind) => valueOf(kind, m, manner));
      const body = values.map(piece).join(between);
      return { values, text: utf8(style === 'json' ? `{${body}}` : body + end) };
    },
  };
}

/** What boards print that is no reading. Made up. */
const NOISE: readonly string[] = [
  '',
  '---------------',
  '*** probe board v2.1 ***',
  'Booting...',
  'ets Jan  8 2026,rst cause:2, boot mode:(3,6)',
  'load 0x40080400, len 3480',
  'Found 2 sensors',
  'sensor 1: 12 bit, parasite power: no',
  'Calibration offset: 0.35 C',
  'Alarm limit 45.0 C',
  'Max range: 125.0 C',
  'Default target: 32.0',
  '1) start  2) stop  3) set 32.5',
  '[2] interval = 1.0 s',
  'Press h for help (12 commands)',
  '> ',
  'OK',
  'WARN: retry 3 of 5',
  '[ERROR] sensor 2 timed out after 750 ms',
  'wifi: connected, ip 192.168.4.17, rssi -61',
  'free heap 182344',
  'T',
  'Temp',
  'Fan 3 at 45 %',
  'log 12 saved, 31.5 kB',
  'Uptime 00:12:44',
  'build 2026-03-01 09:15',
  'Set to 31.5 C by knob',
  'Probe calibrated at 0.0 C',
  'Last run ended at 44.5',
  '\u0000\u00ff\u00fe31.4',
  'Sensor error',
  'nan',
  'ERR',
  'CRC fail',
  '31.',
  '-127.0x',
];

export function adversary(seed: number, lines = 40): Adversary {
  const random = seeded(seed);
  const writer = writerOf(random);
  const everyMs = pick(random, [250, 500, 1000, 1000, 1000, 2000]);
  const noise = pick(random, [0, 0, 0.1, 0.3, 0.6]);
  const all = moments({ seed: seed + 1, lines, everyMs, noiseC: pick(random, [0.02, 0.05, 0.1]) });
  const out: AdversaryLine[] = [];
  const rubbish = (atMs: number, text: string) => out.push({ atMs, text, chocolateC: null, temperaturesC: [] });
  for (let at = 0; at < Math.floor(random() * 8); at += 1) rubbish(all[0]!.atMs - 300, pick(random, NOISE));
  if (writer.heading !== null) rubbish(all[0]!.atMs - 50, utf8(writer.heading));
  const resetAt = random() < 0.2 ? Math.floor(lines / 2) : -1;
  for (const [at, moment] of all.entries()) {
    if (at === resetAt) {
      for (const text of shuffled(random, NOISE).slice(0, 8)) rubbish(moment.atMs - 20, text);
      if (writer.heading !== null) rubbish(moment.atMs - 10, utf8(writer.heading));
    }
    if (random() < noise) rubbish(moment.atMs - 5, pick(random, NOISE));
    const { text, values } = writer.write(moment);
    out.push({
      atMs: moment.atMs,
      text,
      chocolateC: values.find(({ kind }) => kind === 'chocolate')!.valueC,
      temperaturesC: values.flatMap(({ valueC }) => (valueC === null ? [] : [valueC])),
    });
  }
  return { seed, name: `${writer.name}, noise ${noise}, every ${everyMs} ms`, lines: out };
}
