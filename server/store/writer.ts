/**
 * The writer thread: takes batches, commits them, answers. A disk that stalls holds up this thread and nothing else.
 * Any failure closes the file; the next batch opens it afresh, so a disk that comes back is simply used again.
 */
import { parentPort, workerData } from 'node:worker_threads';
import type { Entry, FromWriter, ToWriter } from './batch.ts';
import { openForWriting, problemOf } from './database.ts';
import type { Database } from './database.ts';
import { Recorder } from './recorder.ts';

const file = String(workerData);
let open: { readonly db: Database; readonly recorder: Recorder } | null = null;

parentPort?.on('message', (message: ToWriter) => {
  if (message.kind === 'batch') parentPort?.postMessage(answer(message.entries));
  else close();
});

function answer(entries: readonly Entry[]): FromWriter {
  try {
    open ??= opened();
    return { kind: 'committed', progress: open.recorder.commit(entries) };
  } catch (error) {
    dropFile();
    return { kind: 'failed', reason: problemOf(error) };
  }
}

function opened(): { readonly db: Database; readonly recorder: Recorder } {
  const db = openForWriting(file, false);
  return { db, recorder: new Recorder(db) };
}

function dropFile(): void {
  try {
    open?.db.close();
  } finally {
    open = null;
  }
}

function close(): void {
  dropFile();
  parentPort?.close();
}
