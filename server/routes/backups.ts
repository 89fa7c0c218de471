/** What is kept of everything: backups listed, made, fetched, put back, deleted. */
import { createReadStream } from 'node:fs';
import {
  type Backup,
  BACKUP_KINDS,
  type BackupAnswer,
  type Backups,
  NIGHTS_KEPT,
  type RestoreAnswer,
} from '../backups/backups.ts';
import { exactly, type Fields, list, object, oneOf, orNull, text, wallTime, wholeFrom } from '../core/record/shape.ts';
import { nextQuietMs } from '../backups/nightly.ts';
import { type Answer, type Asked, json, problem, type Route } from './route.ts';

export interface BackupNeeds {
  readonly backups: Backups;
  /** What had to be done with the data file, and what was found wrong with it since, a sentence each. */
  readonly notices: () => readonly string[];
  readonly wallNowMs: () => number;
}

/** The registered name of SQLite's file format. */
const SQLITE = 'application/vnd.sqlite3';

const BACKUP: Fields<Backup> = {
  name: text,
  kind: oneOf(BACKUP_KINDS),
  madeAtWall: wallTime,
  bytes: wholeFrom(0),
  damage: orNull(text),
};

const KEPT = object({
  folder: text,
  dataBytes: wholeFrom(0),
  freeBytes: orNull(wholeFrom(0)),
  nightsKept: exactly(NIGHTS_KEPT),
  nextNightAtWall: wallTime,
  busyWith: orNull(oneOf(['backup', 'restore'])),
  trouble: orNull(object({ atWall: wallTime, words: text })),
  notices: list(text),
  backups: list(object(BACKUP)),
});

/** Everything is said by the address. An empty object all the same: no foreign page can send one, as it could a form. */
const NOTHING = object({});

export function backupRoutes(needs: BackupNeeds): Route[] {
  const { backups } = needs;
  const ofOne =
    (answer: (name: string, asked: Asked) => Answer | Promise<Answer>): Route['answer'] =>
    (asked) => {
      const name = asked.params['backup']!;
      return backups.fileOf(name) === null ? noSuch(name) : answer(name, asked);
    };
  return [
    {
      method: 'get',
      path: '/backups',
      does: 'All backups, newest first, with what their check found; where they lie, how much room there is, and what became of the data file.',
      gives: { json: KEPT.schema },
      answer: () => json(keptNow(needs)),
    },
    {
      method: 'post',
      path: '/backups',
      does: 'Makes a backup now, and answers when it has been checked. Recording goes on.',
      refusal: 'Not for a backup',
      body: NOTHING,
      gives: { json: object(BACKUP).schema, status: 201 },
      problems: [409, 507],
      answer: async () => made(await backups.make('by-hand')),
    },
    {
      method: 'get',
      path: '/backups/{backup}',
      role: 'control',
      does: 'The file of a backup, to be kept elsewhere.',
      gives: { file: SQLITE },
      answer: ofOne((name) => ({ kind: 'file', type: SQLITE, name, content: createReadStream(backups.fileOf(name)!) })),
    },
    {
      method: 'post',
      path: '/backups/{backup}/restore',
      role: 'host',
      does: 'Goes on with a backup in place of what is there now, which is kept as a backup itself. Not while a run is going.',
      refusal: 'Not for a backup',
      body: NOTHING,
      gives: { json: object({ restored: text, keptAs: text }).schema },
      problems: [409, 507],
      answer: ofOne(async (name) => restored(name, await backups.restore(name))),
    },
    {
      method: 'delete',
      path: '/backups/{backup}',
      role: 'host',
      does: 'Deletes a backup.',
      gives: { json: object({ deleted: text }).schema },
      problems: [507],
      answer: ofOne((name) =>
        backups.remove(name) ? json({ deleted: name }) : problem(507, 'Not deleted', `${name} cannot be deleted.`),
      ),
    },
  ];
}

function keptNow({ backups, notices, wallNowMs }: BackupNeeds) {
  return {
    folder: backups.folder,
    dataBytes: backups.dataBytes(),
    freeBytes: backups.freeBytes(),
    nightsKept: NIGHTS_KEPT,
    nextNightAtWall: new Date(nextQuietMs(wallNowMs())).toISOString(),
    busyWith: backups.busyWith,
    trouble: backups.trouble,
    notices: notices(),
    backups: backups.list(),
  };
}

function made(answer: BackupAnswer): Answer {
  if (answer.ok) return json(answer.backup, 201);
  return problem(answer.because === 'busy' ? 409 : 507, 'No backup', answer.detail);
}

function restored(name: string, answer: RestoreAnswer): Answer {
  if (answer.ok) return json({ restored: name, keptAs: answer.keptAs });
  switch (answer.because) {
    case 'unknown':
      return noSuch(name);
    case 'disk':
      return problem(507, 'Not put back', answer.detail);
    default:
      return problem(409, 'Not put back', answer.detail);
  }
}

function noSuch(name: string): Answer {
  return problem(404, 'No such backup', `There is no backup ${name}.`);
}
