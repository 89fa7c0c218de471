/** What the page asks of Bowlside over HTTP: commands, notes, and the lists. Failure is a value with words for the person. */
import type { Command } from '../server/core/record/command.ts';
import type { RunEvent } from '../server/core/record/event.ts';
import type { Phase, Profile } from '../server/core/record/profile.ts';
import type { NoteInfo, RunInfo, Tile } from '../server/core/show/wire.ts';
import { isNoteInfo, isRunEvent, isRunInfo, isTile } from '../server/core/show/decode.ts';
import { POST } from './words/page.ts';

/** `at`: the place in what was sent that is at fault, and the rule it breaks. */
export type Answer<Value> =
  { readonly ok: true; readonly value: Value } | { readonly ok: false; readonly why: string; readonly at?: Fault };

export interface Fault {
  readonly path: string;
  readonly rule: string;
}

/** A profile is chosen by its id; the server puts the whole of it into the trace. */
export type PageCommand =
  | Exclude<Command, { name: 'choose-profile' }>
  | (Pick<Extract<Command, { name: 'choose-profile' }>, 'name' | 'condition'> & { readonly profile: string });

export interface ProfileCard {
  readonly id: string;
  readonly title: string;
  readonly coating: Profile['coating'];
  readonly source: string;
  readonly phases: readonly Phase[];
}

/** A serial port that could be a thermometer but was not opened by itself: opening can reboot a machine. */
export interface PortChoice {
  readonly path: string;
  /** For people: maker and path. */
  readonly label: string;
}

/** A stored run as it is opened, with its whole curve in columns; `stored-curve.ts` fetches what is finer. */
export interface OpenedRun {
  readonly info: RunInfo;
  /** Feed clock; null while it is going. */
  readonly endedAtMs: number | null;
  readonly events: readonly RunEvent[];
  readonly tiles: readonly Tile[];
  readonly notes: readonly NoteInfo[];
  /** Since when it lies in the bin, ISO 8601; null: it does not. */
  readonly binnedAtWall: string | null;
}

/** Longer than this and the person should know that nothing happened, ms (ours). */
const GIVE_UP_AFTER_MS = 8_000;

export function postCommand(bowl: string, command: PageCommand): Promise<Answer<unknown>> {
  return ask(`/api/bowls/${encodeURIComponent(bowl)}/commands`, command);
}

/** `atMs`: the moment the note is about, feed clock. `replaces`: id of the mark whose place it takes; with no text it strikes it out. */
export interface NewNote {
  readonly atMs: number;
  /** Where it is about a span: the moment that ends it. */
  readonly untilMs?: number;
  readonly tags?: readonly string[];
  readonly text: string;
  readonly replaces?: string;
}

export async function postNote(run: string, note: NewNote): Promise<Answer<NoteInfo>> {
  return checked(await ask(`/api/runs/${encodeURIComponent(run)}/notes`, note), isNoteInfo);
}

export async function fetchProfiles(): Promise<Answer<readonly ProfileCard[]>> {
  return checked(await ask('/api/profiles'), isListOf(hasFields('id', 'title', 'phases')));
}

export async function fetchPorts(): Promise<Answer<readonly PortChoice[]>> {
  return checked(await ask('/api/thermometers'), isListOf(hasFields('path', 'label')));
}

/** `bowl`: in its chocolate; null: beside those that are open, in nothing yet; absent: in place of the one that was chosen first. */
export function postPort(path: string, bowl?: string | null): Promise<Answer<unknown>> {
  return ask('/api/thermometers', bowl === undefined ? { path } : { path, bowl });
}

export async function fetchRun(run: string): Promise<Answer<OpenedRun>> {
  return checked(await ask(`/api/runs/${encodeURIComponent(run)}`), isOpenedRun);
}

/** With a body it is posted, unless another method is named. */
export async function ask(
  path: string,
  body?: unknown,
  method = body === undefined ? 'GET' : 'POST',
  patienceMs = GIVE_UP_AFTER_MS,
): Promise<Answer<unknown>> {
  const headers = { 'content-type': 'application/json' };
  const sent = body === undefined ? {} : { headers, body: JSON.stringify(body) };
  return send(path, { method, ...sent }, patienceMs, bodyOf);
}

/** `read`: what is made of the answer; a refusal comes in the words of the server. */
export async function send<Value>(
  path: string,
  request: RequestInit,
  patienceMs: number,
  read: (response: Response) => Promise<Value>,
): Promise<Answer<Value>> {
  try {
    const response = await fetch(path, { ...request, signal: AbortSignal.timeout(patienceMs) });
    return response.ok ? { ok: true, value: await read(response) } : refused(await bodyOf(response));
  } catch {
    return { ok: false, why: POST.unreachable };
  }
}

export async function bodyOf(response: Response): Promise<unknown> {
  const text = await response.text();
  try {
    return text === '' ? null : (JSON.parse(text) as unknown);
  } catch {
    return null;
  }
}

function refused(value: unknown): Answer<never> {
  const why = whyOf(value) ?? POST.unreachable;
  if (!hasFields<{ readonly path: unknown }>('path')(value) || typeof value.path !== 'string')
    return { ok: false, why };
  const rule = hasFields<{ readonly rule: unknown }>('rule')(value) ? String(value.rule) : why;
  return { ok: false, why, at: { path: value.path, rule } };
}

function whyOf(value: unknown): string | null {
  if (typeof value !== 'object' || value === null) return null;
  const words = Object.values(value).find((field) => typeof field === 'string');
  return words ?? null;
}

export function checked<Value>(answer: Answer<unknown>, is: (value: unknown) => value is Value): Answer<Value> {
  if (!answer.ok) return answer;
  return is(answer.value) ? { ok: true, value: answer.value } : { ok: false, why: POST.unreadable };
}

export function isListOf<Item>(is: (value: unknown) => value is Item): (value: unknown) => value is readonly Item[] {
  return (value): value is readonly Item[] => Array.isArray(value) && value.every(is);
}

export function hasFields<Item extends object>(
  ...names: readonly (keyof Item & string)[]
): (value: unknown) => value is Item {
  return (value): value is Item =>
    typeof value === 'object' && value !== null && names.every((name) => Object.hasOwn(value, name));
}

function isOpenedRun(value: unknown): value is OpenedRun {
  if (!hasFields<OpenedRun>('info', 'endedAtMs', 'events', 'tiles', 'notes', 'binnedAtWall')(value)) return false;
  return (
    isRunInfo(value.info) &&
    isListOf(isRunEvent)(value.events) &&
    isListOf(isTile)(value.tiles) &&
    isListOf(isNoteInfo)(value.notes)
  );
}
