/**
 * `bowlside lag`: how long a probe lags, measured by a plunge, live from a thermometer or from a table of readings. It opens no
 * database, and keeps nothing itself: who wants the number remembered is told of it.
 */
import { extname } from 'node:path';
import { feedClock } from '../clock.ts';
import { type Config, readConfig, type Surroundings } from '../config.ts';
import {
  lagFromPlunge,
  lagOf,
  type MeasuredLag,
  type NoLag,
  type Plunge,
  startPlunge,
  watchPlunge,
} from '../core/bowl/plunge.ts';
import type { RecordedInput } from '../core/record/input.ts';
import type { Profile } from '../core/record/profile.ts';
import { KnownPorts, speechOf } from '../known/known-ports.ts';
import { PlungeReadings } from './lag-readings.ts';
import { instructions, lagWords, noLagWords, plungedWords, settledWords, steadyWords } from './lag-words.ts';
import { type KnownProbe, readSettings, UNKNOWN_PROBE } from '../settings.ts';
import { findPort, knownAs } from '../source/ports.ts';
import { readRecorded } from '../source/recorded.ts';
import { serialSource, type Where } from '../source/serial.ts';
import type { Clock } from '../source/source.ts';
import { readTyped } from '../typed.ts';

export interface LagIo extends Surroundings {
  out(line: string): void | Promise<void>;
  err(line: string): void | Promise<void>;
  /** Resolves when the person wants it to stop. */
  stopped(): Promise<void>;
  /** Keeps a lag, seconds, for the thermometer it was measured on; false where that was not possible. Absent: nobody keeps it. */
  readonly remember?: (where: Where, lagS: number) => boolean | Promise<boolean>;
  /** How long a live plunge may take in all, ms. */
  readonly longestMs?: number;
  /** What the lines of a live plunge are stamped by. Absent: the machine's. */
  readonly clock?: Clock;
}

/** 0: measured; 1: it was not possible, and why was told; 2: bad arguments or an unreadable file, told in one line. */
export type LagExit = 0 | 1 | 2;

/** A live plunge in all, ms: ten seconds of rest, and five lags of the slowest probe meant for chocolate (ours). */
const LONGEST_MS = 300_000;

/** `argv`: the words after `lag`. */
export async function lag(argv: readonly string[], io: LagIo): Promise<LagExit> {
  const [first] = argv;
  return first === undefined || first.startsWith('-') ? lagLive(argv, io) : lagOfFile(argv, io);
}

async function lagOfFile(argv: readonly string[], io: LagIo): Promise<LagExit> {
  const [file, second] = argv as [string, ...string[]];
  if (second !== undefined) return fail(io, 2, `bowlside lag: ${second} is not wanted beside ${file}`);
  if (extname(file).toLowerCase() !== '.csv') return fail(io, 2, `${file}: a .csv of readings is wanted`);
  const recorded = await readRecorded(file, UNJUDGED);
  if (!recorded.ok) return fail(io, 2, recorded.reason);
  const readings = new PlungeReadings(UNKNOWN_PROBE);
  return tell(lagFromPlunge(recorded.value.inputs.flatMap((input) => readings.of(input))), null, io);
}

/** Whoever reads a table asks what it is to be judged under; a plunge is judged under nothing. */
const UNJUDGED: Profile = {
  id: 'plunge',
  title: 'A plunge',
  coating: 'none',
  source: 'none',
  phases: [{ id: 'plunge', heading: 'hold', bandC: [0, 100] }],
};

/** Of those that `serve` has. */
const LIVE_OPTIONS = { port: { type: 'string' }, baud: { type: 'string' } } as const;

async function lagLive(argv: readonly string[], io: LagIo): Promise<LagExit> {
  const typed = readTyped('lag', argv, LIVE_OPTIONS);
  if (!typed.ok) return fail(io, 2, `bowlside lag: ${typed.complaint}`);
  const read = readConfig(argv, io);
  if (!read.ok) return fail(io, 2, `bowlside lag: ${read.complaint}`);
  // Listened for from here on, so that no Ctrl-C is lost.
  const stopped = io.stopped();
  const found = await thermometerOf(read.config);
  if (typeof found === 'string') return fail(io, 1, found);
  const known = readSettings(read.config.dataFolder).probes[await knownAs(found)] ?? UNKNOWN_PROBE;
  const outcome = await watched(found, known, read.config, stopped, io);
  return typeof outcome === 'string' ? fail(io, 1, outcome) : tell(outcome, found, io);
}

/** The one that was named, the one chosen before, or the only one; or why it is none of them. */
async function thermometerOf({ port, dataFolder }: Config): Promise<Where | string> {
  if (port !== null) return { path: port };
  const found = await findPort(readSettings(dataFolder).thermometer);
  if (found.kind === 'one') return { identity: found.identity };
  if (found.kind === 'none') return `${found.why} Any port can be named by hand: npx bowlside lag --port PATH.`;
  const which = found.ports.map(({ label }) => label).join('; ');
  return `Several thermometers are plugged in: ${which}. Say which: npx bowlside lag --port PATH.`;
}

/** Watches one plunge to its end, telling how it goes; a text is why it ended before. Leaves nothing open. */
async function watched(
  where: Where,
  known: KnownProbe,
  config: Config,
  stopped: Promise<void>,
  io: LagIo,
): Promise<MeasuredLag | NoLag | string> {
  const plunge = startPlunge();
  const speech = speechOf(config, { ports: new KnownPorts(config.dataFolder), names: {} });
  const source = serialSource({ ...where, ...speech.with(where), clock: io.clock ?? feedClock(0) });
  let timer: NodeJS.Timeout | undefined;
  let isInstructed = false;
  try {
    return await new Promise((resolve) => {
      timer = setTimeout(() => resolve(lagOf(plunge)), io.longestMs ?? LONGEST_MS);
      void stopped.then(() => resolve('Stopped; nothing was measured.'));
      const follow = follower(plunge, known, io, resolve);
      source.start({
        input: follow,
        link: (state) => {
          // Up is said again once the speed is found; what to do is said once.
          if (state.state === 'up' && !isInstructed) for (const line of instructions(state.label)) void io.out(line);
          isInstructed ||= state.state === 'up';
          if (state.state === 'down') resolve(state.why);
        },
      });
    });
  } finally {
    clearTimeout(timer);
    await source.close();
  }
}

/** Takes the thermometer's inputs; ends with the outcome, or with a text where they cannot be read. */
function follower(
  plunge: Plunge,
  known: KnownProbe,
  io: LagIo,
  end: (outcome: MeasuredLag | NoLag | string) => void,
): (input: RecordedInput) => void {
  const readings = new PlungeReadings(known);
  let toldC: number | null = null;
  return (input) => {
    const before = plunge.stage;
    if (input.kind !== 'line' || before === 'over') return;
    const [reading] = readings.of(input);
    if (readings.areVain) return end('No temperature can be read in what it says: npx bowlside ports shows why.');
    if (reading === undefined) return;
    watchPlunge(plunge, reading);
    const news = newsOf(plunge, before, toldC);
    if (news !== null) void io.out(news);
    if (plunge.stage === 'steady') toldC ??= plunge.rest!.midC;
    if (plunge.stage === 'over') end(lagOf(plunge));
  };
}

/** What the person has to know now; null: nothing new. Being steady is told once. */
function newsOf({ stage, rest, settled }: Plunge, before: Plunge['stage'], toldC: number | null): string | null {
  if (stage === before) return null;
  if (stage === 'steady') return toldC === null ? steadyWords(rest!.midC) : null;
  if (stage === 'plunged') return plungedWords(rest!.midC);
  return stage === 'over' && settled !== null ? settledWords(settled.midC) : null;
}

/** `where`: the thermometer it was measured on; null: nobody knows. */
async function tell(outcome: MeasuredLag | NoLag, where: Where | null, io: LagIo): Promise<LagExit> {
  if (!outcome.ok) return fail(io, 1, noLagWords(outcome));
  const remembered = where !== null && ((await io.remember?.(where, outcome.lagS)) ?? false);
  for (const line of lagWords(outcome, remembered)) await io.out(line);
  return 0;
}

async function fail(io: LagIo, exit: 1 | 2, reason: string): Promise<LagExit> {
  await io.err(reason.replaceAll(/\s*\n\s*/g, ' '));
  return exit;
}
