/**
 * From the words after `bowlside serve` and the environment to one checked configuration, or one line saying what is wrong.
 * It reads no file and opens nothing.
 */
import { homedir } from 'node:os';
import { isAbsolute, join, resolve } from 'node:path';
import { commandWords } from './bell/command.ts';
import { PROBE_LAG_MAX_S } from './core/record/run.ts';
import { LINE_ENDINGS, type LineEnding, type Query, QUERY_FORM, QUERY_MOST } from './source/asking.ts';
import { readTyped, type Values } from './typed.ts';

export interface Listen {
  readonly host: string;
  /** 0: any free one. */
  readonly port: number;
}

export interface Config {
  /** Path of the serial port as given, or null: remembered, sole, or simulated. */
  readonly port: string | null;
  /** null: it is searched for. */
  readonly baud: number | null;
  /** What the thermometer at `port` is asked; null: as it is remembered for it. */
  readonly query: Query | null;
  readonly simulate: boolean;
  /** Id of a profile, or a path to a file. */
  readonly profile: string | null;
  /** Id of the phase the chocolate is in. */
  readonly startAt: string | null;
  readonly listen: Listen;
  /** Absolute. */
  readonly dataFolder: string;
  /** null: as it is remembered for the thermometer. */
  readonly probeLagS: number | null;
  /** Whether the host rings where no screen does. */
  readonly bell: boolean;
  /** What it runs to ring, word by word; null: nothing. */
  readonly bellCommand: readonly string[] | null;
}

export type ConfigResult =
  { readonly ok: true; readonly config: Config } | { readonly ok: false; readonly complaint: string };

/** Where a person's own data are kept depends on these. */
export interface Surroundings {
  readonly env: Readonly<Record<string, string | undefined>>;
  readonly platform: NodeJS.Platform;
}

export const DEFAULT_LISTEN: Listen = { host: '127.0.0.1', port: 4330 };
/** Slowest and fastest a serial thermometer is worth trying, baud (ours). */
export const BAUD_MIN = 50;
export const BAUD_MAX = 4_000_000;
export const BAUD_RULE = `a whole number from ${BAUD_MIN} to ${BAUD_MAX} is wanted`;
const TCP_PORT_MAX = 65_535;

const OPTIONS = {
  port: { type: 'string' },
  baud: { type: 'string' },
  simulate: { type: 'boolean' },
  profile: { type: 'string' },
  'start-at': { type: 'string' },
  listen: { type: 'string' },
  data: { type: 'string' },
  'probe-lag': { type: 'string' },
  ask: { type: 'string' },
  'ask-end': { type: 'string' },
  'bell-command': { type: 'string' },
  'no-bell': { type: 'boolean' },
} as const;

type Given = Values<typeof OPTIONS>;

/** The arguments after `serve`. Everything wrong with them is a complaint of one line, never an exception. */
export function readConfig(args: readonly string[], around: Surroundings): ConfigResult {
  const typed = readTyped('serve', args, OPTIONS);
  if (!typed.ok) return typed;
  const { values, words } = typed;
  if (words.length > 0) return no(`${words[0]}: nothing but options is wanted here`);
  const listen = values.listen === undefined ? DEFAULT_LISTEN : listenFrom(values.listen);
  if (listen === null)
    return no(
      `--listen ${values.listen}: HOST:PORT is wanted, as in 127.0.0.1:4330, or a PORT alone, up to ${TCP_PORT_MAX}`,
    );
  const baud = baudFrom(values.baud);
  if (Number.isNaN(baud)) return no(`--baud ${values.baud}: ${BAUD_RULE}`);
  const probeLagS = numberFrom(values['probe-lag'], 0, PROBE_LAG_MAX_S);
  if (Number.isNaN(probeLagS))
    return no(`--probe-lag ${values['probe-lag']}: seconds from 0 to ${PROBE_LAG_MAX_S} are wanted`);
  const bellCommand = values['bell-command'] === undefined ? undefined : commandWords(values['bell-command']);
  const complaint = contradiction(values) ?? askComplaint(values);
  if (complaint !== null) return no(complaint);
  if (bellCommand === null)
    return no(`--bell-command ${values['bell-command']}: a program and its words are wanted, with each quote closed`);
  const config: Config = {
    port: values.port ?? null,
    baud,
    query: queryFrom(values),
    simulate: values.simulate ?? false,
    profile: values.profile ?? null,
    startAt: values['start-at'] ?? null,
    listen,
    dataFolder: values.data === undefined ? defaultDataFolder(around) : resolve(values.data),
    probeLagS,
    bell: !(values['no-bell'] ?? false),
    bellCommand: bellCommand ?? null,
  };
  return { ok: true, config };
}

/** A number, alone or after the name or address of a machine: no system calls a serial port so. */
const WEB_ADDRESS = /^(?:[^/\\]*:)?\d+$/;

/** Words that are each fine but do not go together. */
function contradiction(values: Given): string | null {
  const { port, simulate } = values;
  if (port !== undefined && WEB_ADDRESS.test(port)) return `--port ${port}: that is a web address; use --listen`;
  const empty = Object.entries(values).find(([, value]) => value === '');
  if (empty !== undefined) return `--${empty[0]} is empty`;
  if (simulate && port !== undefined) return '--simulate and --port: one bowl is either simulated or measured';
  if (values['no-bell'] && values['bell-command'] !== undefined)
    return '--no-bell and --bell-command: the host either rings or does not';
  if (values.baud !== undefined && port === undefined) return '--baud belongs to a --port';
  if (values.ask !== undefined && port === undefined)
    return '--ask belongs to a --port: nothing is sent to a device that nobody named';
  if (values['ask-end'] !== undefined && values.ask === undefined) return '--ask-end belongs to an --ask';
  if (values['start-at'] !== undefined && values.profile === undefined && !simulate)
    return '--start-at names a phase of a --profile';
  return null;
}

function askComplaint({ ask, 'ask-end': end }: Given): string | null {
  if (ask !== undefined && !QUERY_FORM.test(ask))
    return `--ask ${ask}: 1 to ${QUERY_MOST} letters, figures and signs are wanted`;
  if (end !== undefined && !isLineEnding(end))
    return `--ask-end ${end}: ${Object.keys(LINE_ENDINGS).join(', ')} is wanted`;
  return null;
}

/** A line feed ends it where nobody says otherwise, as IEEE 488.2 has it. */
function queryFrom({ ask, 'ask-end': end = 'lf' }: Given): Query | null {
  return ask === undefined || !isLineEnding(end) ? null : { text: ask, ending: end };
}

function isLineEnding(word: string): word is LineEnding {
  return Object.hasOwn(LINE_ENDINGS, word);
}

/** null where it was not given, NaN where it is no speed. */
export function baudFrom(text: string | undefined): number | null {
  const baud = numberFrom(text, BAUD_MIN, BAUD_MAX);
  return Number.isInteger(baud ?? 1) ? baud : NaN;
}

/** null where it was not given, NaN where it is no number in range. */
function numberFrom(text: string | undefined, low: number, high: number): number | null {
  if (text === undefined) return null;
  const value = /^\d+(\.\d+)?$/.test(text) ? Number(text) : NaN;
  return value >= low && value <= high ? value : NaN;
}

/** `HOST:PORT`, `[IPv6]:PORT`, or a port alone on the loopback address. */
function listenFrom(text: string): Listen | null {
  const match = /^(?:(\[[0-9a-fA-F:.]+\]|[^:[\]\s/@]+):)?(\d{1,5})$/.exec(text);
  if (match === null) return null;
  const port = Number(match[2]);
  const host = match[1]?.replace(/^\[|\]$/g, '') ?? DEFAULT_LISTEN.host;
  return port <= TCP_PORT_MAX ? { host, port } : null;
}

/** Where each system keeps what belongs to one person and one program: the XDG base directories, or the system's own custom. */
export function defaultDataFolder({ env, platform }: Surroundings): string {
  const home = homedir();
  if (platform === 'darwin') return join(home, 'Library', 'Application Support', 'bowlside');
  if (platform === 'win32') return join(env['LOCALAPPDATA'] ?? join(home, 'AppData', 'Local'), 'bowlside');
  const xdg = env['XDG_DATA_HOME'];
  // A relative path there is to be ignored (XDG Base Directory Specification).
  const base = xdg !== undefined && isAbsolute(xdg) ? xdg : join(home, '.local', 'share');
  return join(base, 'bowlside');
}

function no(complaint: string): { ok: false; complaint: string } {
  return { ok: false, complaint };
}
