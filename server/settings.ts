/**
 * What Bowlside remembers between starts beside its runs: which thermometer a person chose, what is known of each, how to speak with it, and
 * the bench. One small JSON
 * file in the data folder, replaced whole. Losing it costs a few questions, so whatever of it is damaged counts as never said.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { type Bench, benchFrom, PLAIN_BENCH } from './bench/bench.ts';
import { BAUD_MAX, BAUD_MIN } from './config.ts';
import { correctionComplaint } from './core/record/command-file.ts';
import { lagShape } from './core/record/input-file.ts';
import { type Companion, NO_CORRECTION } from './core/record/run.ts';
import { type Fields, object, oneOf, orNull, text, textLike, within } from './core/record/shape.ts';
import { companionFields } from './core/record/trace.ts';
import { LINE_ENDINGS, type Query, QUERY_FORM, QUERY_MOST } from './source/asking.ts';
import type { PortIdentity } from './source/ports.ts';
import { makeFolder } from './store/folder.ts';
import { writeWhole } from './whole-file.ts';

export interface Settings {
  /** The thermometer opened last, or null where none was ever chosen. */
  readonly thermometer: PortIdentity | null;
  /** Others that a person opened beside it: they are opened at the next start, too. */
  readonly beside: readonly PortIdentity[];
  readonly bench: Bench;
  /** What is known of each thermometer, by its `thermometerId`; the one learned of last stands at the end. */
  readonly probes: Readonly<Record<string, KnownProbe>>;
  /** How to speak with each, by the same name and in the same order. */
  readonly ports: Readonly<Record<string, KnownPort>>;
}

/** What was found or said of the port of one thermometer. */
export interface KnownPort {
  /** The speed that was found, baud; null: none was. */
  readonly baud: number | null;
  /** What a person wants it to be asked; null: nothing is ever sent to it. */
  readonly query: Query | null;
}

export const UNKNOWN_PORT: KnownPort = { baud: null, query: null };

/** What was said or measured of one thermometer. */
export interface KnownProbe extends Companion {
  /** null: neither measured nor said. */
  readonly lag: ProbeLag | null;
}

export interface ProbeLag {
  /** Seconds to 63.2 % of a step in chocolate, 0 to `PROBE_LAG_MAX_S`. */
  readonly lagS: number;
  /** When it was measured, ISO 8601; null: a person said it. */
  readonly measuredAtWall: string | null;
}

export const UNKNOWN_PROBE: KnownProbe = { lag: null, correction: NO_CORRECTION, roles: {}, decimalComma: null };

/** As many thermometers are remembered, the ones learned of last (ours: more than one bench ever sees). */
export const KNOWN_MOST = 50;

const FILE = 'settings.json';
const NOTHING: Settings = { thermometer: null, beside: [], bench: PLAIN_BENCH, probes: {}, ports: {} };

/** Never throws: no file, or one that cannot be understood, gives the settings of a first start. */
export function readSettings(folder: string): Settings {
  try {
    const value: unknown = JSON.parse(readFileSync(join(folder, FILE), 'utf8'));
    return settingsFrom(value);
  } catch {
    return NOTHING;
  }
}

/** Whole or not at all. False where the folder cannot be written: that is no reason not to read the thermometer. */
export function writeSettings(folder: string, settings: Settings): boolean {
  try {
    writeWhole(join(folder, FILE), `${JSON.stringify(settings, null, 2)}\n`);
    return true;
  } catch {
    return false;
  }
}

/** A person's choice among thermometers; what is known of each stays. False as above. */
export function rememberThermometer(folder: string, thermometer: PortIdentity): boolean {
  return writeSettings(folder, { ...readSettings(folder), thermometer });
}

/** As the person has it now. False as above. */
export function rememberBench(folder: string, bench: Bench): boolean {
  return writeSettings(folder, { ...readSettings(folder), bench });
}

/** False as above. */
export function rememberBeside(folder: string, beside: readonly PortIdentity[]): boolean {
  return writeSettings(folder, { ...readSettings(folder), beside });
}

/** Changes what is known of one thermometer, as the file has it now: another program may have written it meanwhile. False as above. */
export function rememberProbe(folder: string, id: string, change: (known: KnownProbe) => KnownProbe): boolean {
  const settings = readSettings(folder);
  return writeSettings(folder, { ...settings, probes: changedIn(settings.probes, id, UNKNOWN_PROBE, change) });
}

/** The same of its port. */
export function rememberPort(folder: string, id: string, change: (known: KnownPort) => KnownPort): boolean {
  const settings = readSettings(folder);
  return writeSettings(folder, { ...settings, ports: changedIn(settings.ports, id, UNKNOWN_PORT, change) });
}

/** The one changed last stands at the end, and the first ones are forgotten. */
function changedIn<T>(all: Readonly<Record<string, T>>, id: string, unknown: T, change: (known: T) => T) {
  const { [id]: known = unknown, ...others } = all;
  return Object.fromEntries(Object.entries({ ...others, [id]: change(known) }).slice(-KNOWN_MOST));
}

/** A lag as it was measured for the thermometer of this `thermometerId`. The folder is made where there is none yet; false as above. */
export function rememberMeasuredLag(folder: string, id: string, lagS: number, measuredAtWall: string): boolean {
  try {
    makeFolder(folder);
  } catch {
    return false;
  }
  return rememberProbe(folder, id, (known) => ({ ...known, lag: { lagS, measuredAtWall } }));
}

function settingsFrom(value: unknown): Settings {
  const [thermometer, beside] = [fieldOf(value, 'thermometer'), fieldOf(value, 'beside')];
  return {
    thermometer: isIdentity(thermometer) ? thermometer : null,
    beside: Array.isArray(beside) ? beside.filter(isIdentity) : [],
    bench: benchFrom(fieldOf(value, 'bench')),
    probes: wholeIn(fieldOf(value, 'probes'), isKnownProbe),
    ports: wholeIn(fieldOf(value, 'ports'), isKnownPort),
  };
}

function fieldOf(value: unknown, key: string): unknown {
  return typeof value === 'object' && value !== null ? (value as Readonly<Record<string, unknown>>)[key] : undefined;
}

function isIdentity(value: unknown): value is PortIdentity {
  if (typeof value !== 'object' || value === null) return false;
  const { vendorId, productId, serialNumber, position, path } = value as Readonly<Record<string, unknown>>;
  const textOrNull = [serialNumber, position].every((field) => field === null || typeof field === 'string');
  return textOrNull && [vendorId, productId, path].every((field) => typeof field === 'string');
}

/** A thermometer whose entry is damaged is one that nothing is known of; the others are kept. */
function wholeIn<T>(value: unknown, isWhole: (entry: unknown) => entry is T): Readonly<Record<string, T>> {
  if (typeof value !== 'object' || value === null) return {};
  const whole = Object.entries(value).filter((entry): entry is [string, T] => isWhole(entry[1]));
  return Object.fromEntries(whole);
}

const QUERY: Fields<Query> = {
  text: textLike(QUERY_FORM, `1 to ${QUERY_MOST} letters, figures and signs are wanted`),
  ending: oneOf(Object.keys(LINE_ENDINGS)),
};
export const queryShape = object(QUERY);
const PORT: Fields<KnownPort> = { baud: orNull(within(BAUD_MIN, BAUD_MAX)), query: orNull(queryShape) };
const portShape = object(PORT);

function isKnownPort(value: unknown): value is KnownPort {
  return portShape.check(value, '') === null;
}

const LAG: Fields<ProbeLag> = { lagS: lagShape, measuredAtWall: orNull(text) };
const PROBE: Fields<KnownProbe> = {
  lag: orNull(object(LAG)),
  ...companionFields,
};
const probeShape = object(PROBE);

/** A correction is bounded as it is where a person sets it. */
function isKnownProbe(value: unknown): value is KnownProbe {
  return probeShape.check(value, '') === null && correctionComplaint(value as KnownProbe) === null;
}
