/** What the page fetches of Bowlside and looks at before it is shown: notes that were kept, runs, profiles, ports. */
import type { RunEvent } from '../server/core/record/event.ts';
import type { Phase, Profile } from '../server/core/record/profile.ts';
import type { NoteInfo, RunInfo, Tile } from '../server/core/show/wire.ts';
import { isNoteInfo, isRunEvent, isRunInfo, isTile } from '../server/core/show/decode.ts';
import { ask, hasFields } from './post.ts';
import type { Answer } from './post.ts';
import { POST } from './words/page.ts';

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
  /** When it was brought in from a file, ISO 8601; null: it was recorded here. */
  readonly importedAtWall: string | null;
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

export function checked<Value>(answer: Answer<unknown>, is: (value: unknown) => value is Value): Answer<Value> {
  if (!answer.ok) return answer;
  return is(answer.value) ? { ok: true, value: answer.value } : { ok: false, why: POST.unreadable };
}

export function isListOf<Item>(is: (value: unknown) => value is Item): (value: unknown) => value is readonly Item[] {
  return (value): value is readonly Item[] => Array.isArray(value) && value.every(is);
}

function isOpenedRun(value: unknown): value is OpenedRun {
  return (
    hasFields<OpenedRun>('info', 'endedAtMs', 'events', 'tiles', 'notes', 'binnedAtWall', 'importedAtWall')(value) &&
    isRunInfo(value.info) &&
    isListOf(isRunEvent)(value.events) &&
    isListOf(isTile)(value.tiles) &&
    isListOf(isNoteInfo)(value.notes)
  );
}
