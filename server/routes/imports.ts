/** Files brought in as runs: looked at first, then taken whole or not at all. Reading and judging go on in slices beside the bowl. */
import type { Profile } from '../core/record/profile.ts';
import {
  type Fields,
  finite,
  flag,
  list,
  object,
  oneOf,
  orNull,
  text,
  textUpTo,
  tuple,
  union,
  wallTime,
  whole,
  wholeFrom,
  wholeFromText,
} from '../core/record/shape.ts';
import type { Decoded, RunFile } from '../core/record/trace.ts';
import { RUN_NAME_MAX_CHARS } from '../core/show/listed.ts';
import type { TableChoice } from '../intake/bare-table.ts';
import { checkedRunFile, type Taken, takenIn, type Unsaid } from '../intake/intake.ts';
import { TIME_FORMS } from '../intake/moments.ts';
import { curveShown, tableRead, type TableRead, traceOfTable } from '../intake/table-intake.ts';
import { SEPARATORS } from '../separators.ts';
import { inSlices } from '../slices.ts';
import type { Shelf } from '../shelf.ts';
import type { Store } from '../store/store.ts';
import { type Changes, toldOnDisk } from '../on-disk.ts';
import { type Answer, type Asked, json, problem, type Route } from './route.ts';

export interface ImportNeeds {
  readonly sessions: Changes['sessions'];
  readonly store: Store;
  readonly shelf: Pick<Shelf, 'profiles'>;
  readonly wallNowMs: () => number;
  readonly newId: () => string;
}

/** Largest file, bytes (ours: eight hours of ten lines a second fit twice). */
const FILE_MOST_BYTES = 64 * 1024 * 1024;
/** A type that no foreign page can post without asking first. */
const UPLOAD = { type: 'application/octet-stream', mostBytes: FILE_MOST_BYTES };
const COLUMNS_MOST = 49;

const QUERY = {
  profile: textUpTo(200),
  separator: oneOf(Object.keys(SEPARATORS)),
  decimal: oneOf(['point', 'comma']),
  time: wholeFromText(0, COLUMNS_MOST),
  temperature: wholeFromText(0, COLUMNS_MOST),
  form: oneOf(TIME_FORMS),
  unit: oneOf(['c', 'f']),
  name: textUpTo(RUN_NAME_MAX_CHARS),
  startedAtWall: wallTime,
};

const CHOICE: Fields<TableChoice> = {
  separator: QUERY.separator,
  decimal: QUERY.decimal,
  time: wholeFrom(0),
  temperature: wholeFrom(0),
  form: QUERY.form,
  unit: QUERY.unit,
};

/** What is in a file, and how a table was read. */
const previewShape = union('kind', {
  run: object({
    kind: oneOf(['run']),
    what: oneOf(['trace', 'run']),
    run: orNull(text),
    isHere: flag,
    title: text,
    startedAtWall: orNull(text),
    lastedS: whole,
    inputs: wholeFrom(0),
    events: wholeFrom(0),
    notes: wholeFrom(0),
  }),
  table: object({
    kind: oneOf(['table']),
    choice: orNull(object(CHOICE)),
    names: list(text),
    cells: list(list(text)),
    trouble: orNull(text),
    curve: list(tuple(finite, finite)),
    lastedS: whole,
    readings: wholeFrom(0),
    startedAtWall: orNull(text),
  }),
});

const REFUSAL = 'Not a run';

export function importRoutes(needs: ImportNeeds): Route[] {
  const { sessions, store, wallNowMs, newId } = needs;
  let isBusy = false;
  /** One file at a time: each may fill much memory. */
  const alone = async (work: () => Promise<Answer>): Promise<Answer> => {
    if (isBusy) return problem(409, 'Not now', 'Another file is being read. Try again in a moment.');
    isBusy = true;
    try {
      return await work();
    } finally {
      isBusy = false;
    }
  };
  const unsaid = ({ query }: Asked, startedAtMs: number | null): Unsaid => {
    const now = new Date(wallNowMs()).toISOString();
    const started = startedAtMs === null ? (query['startedAtWall'] ?? null) : new Date(startedAtMs).toISOString();
    return { newId, name: query['name'] ?? null, startedAtWall: started, importedAtWall: now };
  };
  return [
    {
      method: 'post',
      path: '/imports/preview',
      does: 'Looks at a file and says what it would become. Nothing is kept.',
      refusal: REFUSAL,
      query: QUERY,
      upload: UPLOAD,
      gives: { json: previewShape.schema },
      problems: [409],
      answer: (asked) =>
        alone(async () => {
          const text = textOf(asked);
          if (text === null) return refused(NO_TEXT);
          return isRunFile(text) ? previewOfRun(text, store) : previewOfTable(text, asked, needs.shelf.profiles);
        }),
    },
    {
      method: 'post',
      path: '/imports',
      does: 'Takes a file in as a run: one that was handed over, a trace, or a table under a profile. All of it or nothing.',
      refusal: REFUSAL,
      query: QUERY,
      upload: UPLOAD,
      gives: { json: object({ run: text }).schema, status: 201 },
      problems: [409, 503],
      answer: (asked) =>
        alone(async () => {
          if (!store.health().recording) return notOnDisk();
          const text = textOf(asked);
          if (text === null) return refused(NO_TEXT);
          const read = await readFile(text, asked, needs.shelf.profiles);
          if (!('file' in read)) return read;
          const { file, startedAtMs } = read;
          const here = hereAlready(file, store);
          if (here !== null) return here;
          const taken = await inSlices(takenIn(file, unsaid(asked, startedAtMs)));
          return taken.ok ? kept(taken.value, { sessions, store }) : refused(taken);
        }),
    },
  ];
}

const NO_TEXT = { line: 0, reason: 'the file is empty, or no text' };

/** null: there is nothing in it, or it is a picture or a program: no file of ours and no table holds a NUL. */
function textOf({ body }: Asked): string | null {
  return typeof body === 'string' && body.trim() !== '' && !body.includes('\u0000') ? body : null;
}

/** Every line of a run's file is a JSON object; no table begins so. */
function isRunFile(text: string): boolean {
  return /^\uFEFF?\s*\{/.test(text);
}

type Read = { readonly file: RunFile; readonly startedAtMs: number | null };

async function readFile(text: string, asked: Asked, profiles: readonly Profile[]): Promise<Read | Answer> {
  if (isRunFile(text)) {
    const file = await inSlices(checkedRunFile(text));
    return file.ok ? { file: file.value, startedAtMs: null } : refused(file);
  }
  const profile = profileOf(asked, profiles);
  if (profile === null) return problem(400, REFUSAL, 'A table needs a profile to be judged under.', 'profile');
  const table = await inSlices(tableRead(text, choiceOf(asked), profile));
  if (!table.ok) return refused(table);
  const { inputs, startedAtMs } = table.value;
  if (!inputs.ok) return refused(inputs);
  return { file: traceOfTable(inputs.value, profile), startedAtMs };
}

function profileOf({ query }: Asked, profiles: readonly Profile[]): Profile | null {
  return profiles.find(({ id }) => id === query['profile']) ?? null;
}

function choiceOf({ query }: Asked): Partial<TableChoice> {
  const { separator, decimal, time, temperature, form, unit } = query;
  const chosen = {
    separator,
    decimal,
    form,
    unit,
    time: time === undefined ? undefined : Number(time),
    temperature: temperature === undefined ? undefined : Number(temperature),
  };
  return Object.fromEntries(Object.entries(chosen).filter(([, value]) => value !== undefined));
}

async function previewOfRun(text: string, store: Store): Promise<Answer> {
  const decoded = await inSlices(checkedRunFile(text));
  if (!decoded.ok) return refused(decoded);
  const { what, header, labels, inputs, events, notes = [] } = decoded.value;
  const startMs = labels.startedAtMs ?? inputs[0]!.atMs;
  return json({
    kind: 'run',
    what,
    run: labels.run ?? null,
    isHere: labels.run !== undefined && store.has(labels.run),
    title: header.profile.title,
    startedAtWall: labels.startedAtWall ?? null,
    lastedS: Math.round((inputs.at(-1)!.atMs - startMs) / 1000),
    inputs: inputs.length,
    events: events.length,
    notes: notes.length,
  });
}

async function previewOfTable(text: string, asked: Asked, profiles: readonly Profile[]): Promise<Answer> {
  const profile = profileOf(asked, profiles) ?? profiles[0];
  if (profile === undefined) return problem(409, 'Not now', 'There is no profile to judge a table under.');
  const table = await inSlices(tableRead(text, choiceOf(asked), profile));
  return table.ok ? json(tableShown(table.value)) : refused(table);
}

function tableShown({ choice, names, cells, inputs, startedAtMs }: TableRead) {
  const curve = inputs.ok ? curveShown(inputs.value) : [];
  return {
    kind: 'table',
    choice,
    names,
    cells,
    trouble: inputs.ok ? null : faultWords(inputs),
    curve,
    lastedS: curve.length === 0 ? 0 : Math.round(curve.at(-1)![0] - curve[0]![0]),
    readings: inputs.ok ? inputs.value.filter(({ kind }) => kind === 'reading').length : 0,
    startedAtWall: startedAtMs === null ? null : new Date(startedAtMs).toISOString(),
  };
}

function hereAlready({ labels }: RunFile, store: Store): Answer | null {
  if (labels.run === undefined || !store.has(labels.run)) return null;
  return problem(409, 'Here already', 'This run is here already, perhaps in the bin. Nothing was changed.', 'run');
}

async function kept(
  { run, content }: Taken,
  { sessions, store }: Pick<ImportNeeds, 'sessions' | 'store'>,
): Promise<Answer> {
  try {
    await store.bringIn(run, content);
  } catch {
    return notOnDisk();
  }
  await toldOnDisk({ sessions, store }, run.run);
  return json({ run: run.run }, 201);
}

function notOnDisk(): Answer {
  return problem(
    503,
    'Not on disk',
    'The disk does not take it at the moment. Nothing was brought in: try again later.',
  );
}

function refused(fault: { readonly line: number; readonly reason: string }): Answer {
  return problem(400, REFUSAL, faultWords(fault));
}

/** Line 12: t_s is "x": … · Nothing went in. */
function faultWords({ line, reason }: Omit<Extract<Decoded<never>, { ok: false }>, 'ok'>): string {
  const words = line === 0 ? `${reason[0]!.toUpperCase()}${reason.slice(1)}` : `Line ${line}: ${reason}`;
  return `${words}.`;
}
