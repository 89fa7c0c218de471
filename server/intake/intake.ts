/**
 * A run from elsewhere on its way into the store: checked for what a file can hold that no bowl ever did, and judged where it brings no log
 * of its own. What is wrong is named by line and reason. Knows neither requests nor the disk.
 */
import { initialState, step } from '../core/engine.ts';
import type { CardEntry } from '../core/record/card.ts';
import { correctionComplaint } from '../core/record/command-file.ts';
import { lagShape } from '../core/record/input-file.ts';
import type { RunEvent } from '../core/record/event.ts';
import { ENGINE_VERSION } from '../core/record/run.ts';
import { complaintText, textLike, wallTime } from '../core/record/shape.ts';
import { type Decoded, type RunFile, readingRunFile } from '../core/record/trace.ts';
import { Incoming, type IncomingRun } from '../store/incoming.ts';
import type { NoteInfo } from '../core/show/wire.ts';
import type { NewRun } from '../store/records.ts';

/** Longest run taken in, ms (ours: a week; what is due every half hour would otherwise be reckoned for centuries). */
export const RUN_MOST_MS = 7 * 24 * 3_600_000;

/** Events of one input taken in without a stop (ours: a few milliseconds; the engine makes a dozen at most, a file may bring thousands). */
const EVENTS_AT_ONCE = 1_000;

/** Where a run stood that does not say so. */
const ELSEWHERE = 'elsewhere';

/** What a file need not say of itself. */
export interface Unsaid {
  readonly newId: () => string;
  /** What a person calls it; null: nothing. */
  readonly name: string | null;
  /** When it began, ISO 8601; null: nobody knows, and it is taken to end now. */
  readonly startedAtWall: string | null;
  /** Now, ISO 8601. */
  readonly importedAtWall: string;
}

export interface Taken {
  readonly run: NewRun;
  readonly content: IncomingRun;
}

/** Reads the file of a run and looks it through; stops after each line. */
export function* checkedRunFile(text: string): Generator<void, Decoded<RunFile>> {
  const decoded = yield* readingRunFile(text);
  if (!decoded.ok) return decoded;
  const reason = headComplaint(decoded.value) ?? spanComplaint(decoded.value);
  return reason ?? decoded;
}

const idShape = textLike(/^[\w-]{1,64}$/, '1 to 64 letters, digits or hyphens are wanted');

type Fault = Extract<Decoded<never>, { ok: false }>;

function fault(line: number, reason: string): Fault {
  return { ok: false, line, reason };
}

/** What a header may say and a run of ours would not. */
function headComplaint({ what, header, labels }: RunFile): Fault | null {
  if (what === 'log') return fault(1, 'a log holds what came out; what went in is wanted');
  const { run, startedAtWall } = labels;
  const { probeLagS } = header;
  const complaint =
    (run === undefined ? null : idShape.check(run, 'run')) ??
    (startedAtWall === undefined ? null : wallTime.check(startedAtWall, 'startedAtWall')) ??
    (probeLagS === null ? null : lagShape.check(probeLagS, 'probeLagS'));
  if (complaint !== null) return fault(1, complaintText(complaint));
  const beside = Object.entries(header.companions ?? {});
  const implausible = [
    correctionComplaint(header),
    ...beside.map(([id, known]) => correctionComplaint(known, `companions.${id}.`)),
  ].find((found) => found !== null);
  return implausible === undefined ? null : fault(1, complaintText(implausible));
}

/** The moments in it lie where a run can have them: whatever goes through it from its start to its end comes to one. */
function spanComplaint({ inputs, events, notes = [], labels }: RunFile): Fault | null {
  const first = inputs[0];
  if (first === undefined) return fault(0, 'nothing went in');
  const startMs = labels.startedAtMs ?? first.atMs;
  if (startMs > first.atMs) return fault(1, `startedAtMs is ${startMs}: the first input came before that`);
  return (
    lateAmong(inputs, startMs, 2) ??
    lateAmong(events, startMs, 2 + inputs.length) ??
    backAmong(events, startMs, 2 + inputs.length) ??
    farAmong(notes, startMs, 2 + inputs.length + events.length)
  );
}

/** `line`: that of the first of them; each has one. */
function lateAmong(moments: readonly { readonly atMs: number }[], startMs: number, line: number): Fault | null {
  const late = moments.findIndex(({ atMs }) => atMs - startMs > RUN_MOST_MS);
  return late === -1
    ? null
    : fault(line + late, `atMs is ${moments[late]!.atMs}: more than seven days after the start`);
}

function backAmong(events: readonly RunEvent[], startMs: number, line: number): Fault | null {
  let lastMs = startMs;
  for (const [at, { atMs }] of events.entries()) {
    if (atMs < lastMs) return fault(line + at, `atMs is ${atMs}: time may not go back (${lastMs} stands before it)`);
    lastMs = atMs;
  }
  return null;
}

/** A note may speak of what was before the run. */
function farAmong(notes: readonly NoteInfo[], startMs: number, line: number): Fault | null {
  for (const [at, { atMs, untilMs = atMs }] of notes.entries()) {
    const far = [atMs, untilMs].find((ms) => Math.abs(ms - startMs) > RUN_MOST_MS);
    if (far !== undefined) return fault(line + at, `the note's moment is ${far}: more than seven days from the start`);
  }
  return null;
}

/**
 * The run as the store takes it. Readings are those that today's engine makes of the inputs; the log is the file's own where it brings one,
 * else the engine's. Stops after each input.
 */
export function* takenIn(file: RunFile, unsaid: Unsaid): Generator<void, Decoded<Taken>> {
  const isWhole = file.what === 'run';
  const header = isWhole ? file.header : { ...file.header, engine: ENGINE_VERSION };
  const incoming = new Incoming();
  const given = file.events;
  let next = 0;
  let hasStarted = false;
  let state = initialState(header);
  for (const [index, input] of file.inputs.entries()) {
    const turn = step(state, input);
    state = turn.state;
    const isLast = index === file.inputs.length - 1;
    const from = next;
    if (isWhole) while (next < given.length && (isLast || given[next]!.atMs <= input.atMs)) next += 1;
    let events = isWhole ? given.slice(from, next) : turn.events;
    hasStarted ||= events.some(({ kind }) => kind === 'run-started');
    for (; events.length > EVENTS_AT_ONCE; events = events.slice(EVENTS_AT_ONCE)) {
      incoming.addEvents(events.slice(0, EVENTS_AT_ONCE));
      yield;
    }
    incoming.add({ input, events, readings: turn.readings });
    yield;
  }
  if (!hasStarted) return fault(0, 'no run begins in it');
  const content = incoming.whole(file.notes ?? [], cardOf(file, unsaid), unsaid.importedAtWall);
  return { ok: true, value: { run: newRunOf({ ...file, header }, unsaid), content } };
}

/** The name a person gives what has none is the first thing on its card. */
function cardOf({ what, card = [] }: RunFile, { name, importedAtWall }: Unsaid): readonly CardEntry[] {
  if (name === null || what === 'run') return card;
  return [{ writtenAtWall: importedAtWall, by: null, change: { name } }];
}

function newRunOf({ header, labels, inputs }: RunFile, unsaid: Unsaid): NewRun {
  const startedAtMs = labels.startedAtMs ?? inputs[0]!.atMs;
  const endsNow = Date.parse(unsaid.importedAtWall) - (inputs.at(-1)!.atMs - startedAtMs);
  return {
    run: labels.run ?? unsaid.newId(),
    bowl: labels.bowl ?? ELSEWHERE,
    header,
    simulated: labels.simulated ?? false,
    startedAtMs,
    startedAtWall: labels.startedAtWall ?? unsaid.startedAtWall ?? new Date(endsNow).toISOString(),
    source: labels.source ?? inputs[0]!.source,
  };
}
