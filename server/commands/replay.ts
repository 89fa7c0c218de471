/**
 * `bowlside replay`: a recorded run through today's engine as fast as it goes, its log to the terminal or to another program.
 * Where lines go is the caller's to say; this file touches no standard stream and ends no process.
 */
import type { Estimate } from '../core/bowl/estimate.ts';
import { step } from '../core/engine.ts';
import { encodeEvent } from '../core/record/event-file.ts';
import type { RunEvent } from '../core/record/event.ts';
import type { RecordedInput } from '../core/record/input.ts';
import type { Profile } from '../core/record/profile.ts';
import { ENGINE_VERSION, type RunHeader } from '../core/record/run.ts';
import type { RunFile } from '../core/record/trace.ts';
import { replayTrace } from '../core/replay.ts';
import { under } from '../judging/under.ts';
import { loadProfiles, profileNamed } from '../profiles.ts';
import { readReplayOptions, type ReplayOptions } from './replay-options.ts';
import { elapsed, estimateWords, eventWords } from './replay-words.ts';
import { readRecorded } from '../source/recorded.ts';

export interface ReplayIo {
  /** One line of output, without its end. Where a promise comes back, the next line waits for it. */
  out(line: string): void | Promise<void>;
  /** One line for whoever started it. */
  err(line: string): void | Promise<void>;
  /** Where profiles are looked up by id. */
  readonly profilesFolder: string;
}

/** 0: done; 1: `--check` found a difference; 2: bad arguments or an unreadable file, told in one line. */
export type ReplayExit = 0 | 1 | 2;

type Failed = { readonly ok: false; readonly reason: string };

/** `argv`: the words after `replay`. Never throws for anything in them or in the files they name. */
export async function replay(argv: readonly string[], io: ReplayIo): Promise<ReplayExit> {
  const read = readReplayOptions(argv);
  if (!read.ok) return fail(io, `bowlside replay: ${read.reason}`);
  const run = await loadRun(read.options, io.profilesFolder);
  if (!run.ok) return fail(io, run.reason);
  const expected = read.options.check ? await expectedLog(read.options.file, run.file) : null;
  if (expected?.ok === false) return fail(io, expected.reason);
  const log = await judge(run.file, read.options, io);
  return expected === null ? 0 : await compare(expected.events, log, read.options, io);
}

async function fail(io: ReplayIo, reason: string): Promise<ReplayExit> {
  await io.err(reason.replaceAll(/\s*\n\s*/g, ' '));
  return 2;
}

/** The file with what the options put in the place of its own. */
async function loadRun(
  options: ReplayOptions,
  profilesFolder: string,
): Promise<{ readonly ok: true; readonly file: RunFile } | Failed> {
  const chosen = options.profile === null ? null : chooseProfile(options.profile, profilesFolder);
  if (chosen?.ok === false) return chosen;
  const profile = chosen?.profile ?? null;
  const recorded = await readRecorded(options.file, profile);
  if (!recorded.ok) return recorded;
  const file = recorded.value;
  if (file.what === 'log')
    return { ok: false, reason: `${options.file}: a log holds nothing to judge; its trace does` };
  const header: RunHeader = {
    ...file.header,
    engine: ENGINE_VERSION,
    profile: profile ?? file.header.profile,
    probeLagS: options.probeLagS ?? file.header.probeLagS,
  };
  const inputs = profile === null ? file.inputs : file.inputs.map((input) => under(profile, input));
  return { ok: true, file: { ...file, header, inputs } };
}

function chooseProfile(name: string, folder: string): { readonly ok: true; readonly profile: Profile } | Failed {
  const loaded = loadProfiles(folder);
  const found = profileNamed(name, loaded.ok ? loaded.profiles : []);
  if (found.ok) return found;
  return { ok: false, reason: (loaded.ok ? found : loaded).complaints[0]! };
}

/** The log to compare with: the run's own, or the one that lies beside the trace. */
async function expectedLog(
  path: string,
  file: RunFile,
): Promise<{ readonly ok: true; readonly events: readonly RunEvent[] } | Failed> {
  if (file.what === 'run') return { ok: true, events: file.events };
  const beside = path.replace(/\.trace\.jsonl$/, '.log.jsonl');
  if (beside === path) return { ok: false, reason: `${path}: there is no log in it to compare with` };
  const recorded = await readRecorded(beside, null);
  return recorded.ok ? { ok: true, events: recorded.value.events } : recorded;
}

/** Runs the engine, tells what it says, and gives back the log. */
async function judge({ header, inputs }: RunFile, options: ReplayOptions, io: ReplayIo): Promise<RunEvent[]> {
  const stopwatch = new Stopwatch();
  const stepping = options.timing ? stopwatch.step : step;
  const line = options.json ? jsonLine : textLines();
  const log: RunEvent[] = [];
  for (const answer of replayTrace(header, inputs, options.estimatesEveryMs, stepping)) {
    if (answer.kind !== 'estimate') log.push(answer);
    const waiting = io.out(line(answer));
    if (waiting) await waiting;
  }
  if (options.timing) await io.err(stopwatch.words(inputs));
  return log;
}

function jsonLine(answer: RunEvent | Estimate): string {
  return answer.kind === 'estimate' ? JSON.stringify(answer) : encodeEvent(answer);
}

/** Lines to read, their times counted from the run's start. */
function textLines(): (answer: RunEvent | Estimate) => string {
  let startMs: number | null = null;
  return (answer) => {
    if (answer.kind === 'run-started') startMs = answer.atMs;
    const words = answer.kind === 'estimate' ? estimateWords(answer) : eventWords(answer);
    return `${elapsed(answer.atMs - (startMs ?? answer.atMs))}  ${words}`;
  };
}

/** Measures `step` and nothing around it. */
class Stopwatch {
  #spentMs = 0;

  readonly step: typeof step = (state, input) => {
    const began = performance.now();
    const output = step(state, input);
    this.#spentMs += performance.now() - began;
    return output;
  };

  words(inputs: readonly RecordedInput[]): string {
    const readings = inputs.filter(({ kind }) => kind === 'line' || kind === 'reading').length;
    const perS = Math.round(readings / (this.#spentMs / 1000));
    return `${readings} readings in ${(this.#spentMs / 1000).toFixed(3)} s inside step: ${perS} readings per second`;
  }
}

/** Tells the first difference between the log that was and the log that is. */
async function compare(
  expected: readonly RunEvent[],
  log: readonly RunEvent[],
  options: ReplayOptions,
  io: ReplayIo,
): Promise<ReplayExit> {
  const [was, is] = [expected, log].map((events) => events.map(encodeEvent)) as [string[], string[]];
  const longest = Math.max(was.length, is.length);
  const at = Array.from({ length: longest }, (_, index) => index).find((index) => was[index] !== is[index]);
  if (at === undefined) {
    if (!options.json) await io.out(`The log is the same: ${log.length} events.`);
    return 0;
  }
  await io.err(`${options.file}: the log differs from event ${at + 1} on`);
  await io.err(`  recorded: ${was[at] ?? 'nothing more'}`);
  await io.err(`  now:      ${is[at] ?? 'nothing more'}`);
  return 1;
}
