/**
 * Loaded before the store's own writer thread, it gives that a disk that misbehaves as a file beside the data says, asked anew at every
 * batch: `full`, `read-only`, `stalled 500`, or anything else for a sound one. The database's own bounds are used, so that its own errors
 * come of it.
 */
import { readFileSync } from 'node:fs';
import { workerData } from 'node:worker_threads';
import Sqlite from 'better-sqlite3';

/** Pages that a disk still has when it is nearly full: fewer than this. */
const LEFT_PAGES = 3;
const NO_BOUND = 1_000_000_000;

const soundly = Object.getOwnPropertyDescriptor(Sqlite.prototype, 'transaction').value;
Sqlite.prototype.transaction = function (act) {
  return soundly.call(this, (...words) => {
    misbehave(this);
    return act(...words);
  });
};

/** Where the disk ends, as long as it is full. */
let endPages = null;

function pagesOf(db) {
  return Number(db.pragma('page_count', { simple: true }));
}

function misbehave(db) {
  const [what, ms] = fault().split(' ');
  endPages = what === 'full' ? (endPages ?? pagesOf(db) + Math.floor(Math.random() * LEFT_PAGES)) : null;
  db.pragma(`max_page_count = ${endPages ?? NO_BOUND}`);
  db.pragma(`query_only = ${what === 'read-only' ? 'ON' : 'OFF'}`);
  if (what === 'stalled') Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, Number(ms));
}

function fault() {
  try {
    return readFileSync(`${workerData}.fault`, 'utf8');
  } catch {
    return '';
  }
}
