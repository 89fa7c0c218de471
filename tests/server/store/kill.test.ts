/** A server killed outright at any moment: whatever it had called recorded is there, whole, and the run can be gone on with. */
import { fork } from 'node:child_process';
import type { ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import { createInterface } from 'node:readline';
import { expect, test } from 'vitest';
import { damageOf, openForReading } from '../../../server/store/database.ts';
import { freshFolder, madeTurn, madeTurns, newRun, openedStore } from '../../support/store.ts';

const CHILD = new URL('../../support/store-child.mjs', import.meta.url);

/** Each decides after how many acknowledgements, and how many turns into the next one, the process is killed. */
const SEEDS = [11, 23, 37, 41, 59, 67];

test(`[S1] nothing called recorded is missing after kill -9 (seeds ${SEEDS.join(', ')})`, async () => {
  const folder = freshFolder();
  let recorded = 0;
  for (const seed of SEEDS) {
    const acknowledged = await recordUntilKilled(folder, recorded, seed);
    recorded = await turnsOnDisk(folder);
    expect(recorded, `seed ${seed}`).toBeGreaterThanOrEqual(acknowledged);
  }
});

/** The last number of turns that the process said were on disk. */
async function recordUntilKilled(folder: string, recorded: number, seed: number): Promise<number> {
  const child = fork(CHILD, [folder], { stdio: ['ignore', 'pipe', 'inherit', 'ipc'] });
  const exited = once(child, 'exit');
  let acknowledged = recorded;
  let turn = recorded;
  let left = 1 + (seed % 7);
  for await (const line of createInterface({ input: child.stdout! })) {
    if (line !== 'open') acknowledged = Number(line);
    else if (recorded === 0) child.send(['beginRun', newRun('r1')]);
    if (left === 0) continue;
    left -= 1;
    turn = sendTurns(child, turn, 200 + ((seed * 97) % 300));
    if (left === 0) setTimeout(() => child.kill('SIGKILL'), seed * 3);
  }
  await exited;
  return acknowledged;
}

function sendTurns(child: ChildProcess, after: number, count: number): number {
  for (let turn = after + 1; turn <= after + count; turn++) {
    child.send(['append', 'r1', madeTurn(turn), { atMs: turn * 100, state: `after ${turn}`, learned: null }]);
  }
  return after + count;
}

/** Checks on the way that the file is sound and that trace, log and readings stand at the same turn. */
async function turnsOnDisk(folder: string): Promise<number> {
  const store = openedStore(folder);
  expect(store.notices).toEqual([]);
  const db = openForReading(`${folder}/bowlside.sqlite`);
  expect(damageOf(db)).toBeNull();
  db.close();
  const inputs = store.inputsOf('r1');
  const turns = madeTurns(inputs.length);
  const found = store.runToResume('bowl-1', Date.now(), 3_600_000);
  expect(inputs).toEqual(turns.map((turn) => turn.input));
  expect(found?.events).toEqual(turns.flatMap((turn) => turn.events));
  expect(found?.readings).toEqual(turns.flatMap((turn) => turn.readings));
  expect(found?.checkpoint).toEqual({ atMs: inputs.length * 100, state: `after ${inputs.length}` });
  await store.close();
  return inputs.length;
}
