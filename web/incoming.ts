/** A file on its way in, as Bowlside sees it: looked at, read as somebody chose, taken. Failure is a value with words for the person. */
import { checked } from './fetched.ts';
import { type Answer, bodyOf, hasFields, send } from './post.ts';

/** How a table from elsewhere is to be read. `time`, `temperature`: columns, from 0. */
export interface TableChoice {
  readonly separator: 'comma' | 'semicolon' | 'tab';
  readonly decimal: 'point' | 'comma';
  readonly time: number;
  readonly temperature: number;
  readonly form: 's' | 'min' | 'elapsed' | 'clock' | 'date';
  readonly unit: 'c' | 'f';
}

export interface RunPreview {
  readonly kind: 'run';
  readonly what: 'run' | 'trace';
  readonly run: string | null;
  readonly isHere: boolean;
  readonly title: string;
  readonly startedAtWall: string | null;
  readonly lastedS: number;
  readonly inputs: number;
  readonly events: number;
  readonly notes: number;
}

export interface TablePreview {
  readonly kind: 'table';
  /** null: its columns are ours. */
  readonly choice: TableChoice | null;
  readonly names: readonly string[];
  readonly cells: readonly (readonly string[])[];
  /** Why it cannot be read like this. */
  readonly trouble: string | null;
  /** Seconds since its start, °C. */
  readonly curve: readonly (readonly [number, number])[];
  readonly lastedS: number;
  readonly readings: number;
  readonly startedAtWall: string | null;
}

export type Preview = RunPreview | TablePreview;

/** What a table does not say. */
export interface Unsaid {
  readonly profile: string;
  readonly name: string;
  /** ISO 8601. */
  readonly startedAtWall: string;
}

/** Largest file the server takes, bytes. */
export const FILE_MOST_BYTES = 64 * 1024 * 1024;

/** A long file takes its time; longer than this is never, ms (ours). */
const GIVE_UP_AFTER_MS = 300_000;

export async function lookAt(text: string, choice: TableChoice | null): Promise<Answer<Preview>> {
  const answer = await sendFile('/api/imports/preview', text, choice ?? {});
  return checked(answer, (value): value is Preview => isRun(value) || isTable(value));
}

const isRun = hasFields<RunPreview>('kind', 'what', 'isHere', 'title', 'lastedS');
const isTable = hasFields<TablePreview>('kind', 'choice', 'names', 'cells', 'curve');

/** The name of the new run. */
export async function takeIn(
  text: string,
  choice: TableChoice | null,
  unsaid: Unsaid | null,
): Promise<Answer<{ readonly run: string }>> {
  const said = Object.entries(unsaid ?? {}).filter(([, value]) => value !== '');
  const answer = await sendFile('/api/imports', text, { ...choice, ...Object.fromEntries(said) });
  return checked(answer, hasFields<{ readonly run: string }>('run'));
}

function sendFile(path: string, text: string, query: object): Promise<Answer<unknown>> {
  const words = new URLSearchParams(
    Object.entries(query).map(([key, value]): [string, string] => [key, String(value)]),
  );
  const headers = { 'content-type': 'application/octet-stream' };
  return send(`${path}?${words.toString()}`, { method: 'POST', headers, body: text }, GIVE_UP_AFTER_MS, bodyOf);
}
