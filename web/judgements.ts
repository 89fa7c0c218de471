/** What the page asks about second logs of a run: the list, one of them, a new one, away with one. */
import { isRunEvent, isTile } from '../server/core/show/decode.ts';
import type { RunEvent } from '../server/core/record/event.ts';
import type { Judgement } from '../server/core/record/judgement.ts';
import type { RunHeader } from '../server/core/record/run.ts';
import type { Tile } from '../server/core/show/wire.ts';
import { checked, fetchRun, isListOf } from './fetched.ts';
import { ask, hasFields } from './post.ts';
import type { OpenedRun } from './fetched.ts';
import type { Answer } from './post.ts';

/** The run with the header of its first log. */
export interface JudgedRun extends OpenedRun {
  readonly header: Pick<RunHeader, 'engine' | 'profile'>;
}

export interface JudgingNow {
  readonly judgements: readonly Judgement[];
  /** Of whichever run. `share`: 0 to 1. */
  readonly going: {
    readonly id: string;
    readonly run: string;
    readonly profile: string;
    readonly share: number;
  } | null;
  readonly failed: { readonly id: string; readonly reason: string } | null;
}

export interface SecondLog {
  readonly judgement: Judgement;
  readonly events: readonly RunEvent[];
  readonly tiles: readonly Tile[];
}

export async function fetchJudgedRun(run: string): Promise<Answer<JudgedRun>> {
  return checked(await fetchRun(run), (value): value is JudgedRun => hasFields<JudgedRun>('header')(value));
}

export async function fetchJudgings(run: string): Promise<Answer<JudgingNow>> {
  return checked(await ask(pathOf(run)), isJudgingNow);
}

export async function fetchSecondLog(run: string, id: string): Promise<Answer<SecondLog>> {
  return checked(await ask(`${pathOf(run)}/${encodeURIComponent(id)}`), isSecondLog);
}

/** `profile`: id of another than the run's own; null: its own. Gives the id of what was begun. */
export async function postJudging(run: string, profile: string | null): Promise<Answer<{ readonly id: string }>> {
  return checked(await ask(pathOf(run), profile === null ? {} : { profile }), hasFields<{ readonly id: string }>('id'));
}

/** Breaks off the one that is going, too. */
export function dropJudging(run: string, id: string): Promise<Answer<unknown>> {
  return ask(`${pathOf(run)}/${encodeURIComponent(id)}`, undefined, 'DELETE');
}

function pathOf(run: string): string {
  return `/api/runs/${encodeURIComponent(run)}/judgements`;
}

const isJudgement = hasFields<Judgement>('id', 'judgedAtWall', 'header', 'isOwnProfile', 'differsFromSeq', 'visits');

function isJudgingNow(value: unknown): value is JudgingNow {
  return hasFields<JudgingNow>('judgements', 'going', 'failed')(value) && isListOf(isJudgement)(value.judgements);
}

function isSecondLog(value: unknown): value is SecondLog {
  if (!hasFields<SecondLog>('judgement', 'events', 'tiles')(value)) return false;
  return isJudgement(value.judgement) && isListOf(isRunEvent)(value.events) && isListOf(isTile)(value.tiles);
}
