/**
 * Stores in fresh folders, and runs and turns made up for the store's tests: what a turn holds follows from its number, with one event and
 * one reading each, so that whoever looks later knows what must be there.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { onTestFinished } from 'vitest';
import type { Profile } from '../../server/core/record/profile.ts';
import type { RunSummary } from '../../server/core/show/listed.ts';
import type { NewRun, RunPage, RunQuery, Turn } from '../../server/store/records.ts';
import { openForWriting } from '../../server/store/database.ts';
import { dataFileIn, openStore } from '../../server/store/store.ts';
import type { Store } from '../../server/store/store.ts';
import { headerFor } from './bowl.ts';
import { built } from './program.ts';

/** The writer thread runs built: Node 20 reads no TypeScript. */
export const BUILT_WRITER = new URL('../../dist/threads/writer.js', import.meta.url);

/** As above: the thread that judges a stored trace again. */
export const BUILT_JUDGE = new URL('../../dist/threads/judge-thread.js', import.meta.url);

const DARK: Profile = {
  id: 'dark',
  title: 'Dark for candied ginger',
  coating: 'dark',
  source: 'made up for a test',
  phases: [
    { id: 'melt', heading: 'up', bandC: [45, 50] },
    { id: 'work', heading: 'hold', bandC: [31, 32], ceilingC: 32.5 },
  ],
};

/** Gone when the test is over. */
export function freshFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'bowlside-store-'));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}

/** Closed when the test is over. Throws where the store cannot be opened or has not been built. */
export function openedStore(folder: string): Store {
  built('threads/writer.js');
  const opened = openStore(folder, { writerScript: BUILT_WRITER });
  if (!opened.ok) throw new Error(opened.message);
  return closedLater(opened.store);
}

function closedLater(store: Store): Store {
  let closing: Promise<void> | null = null;
  const close = store.close.bind(store);
  store.close = () => (closing ??= close());
  onTestFinished(() => store.close());
  return store;
}

/** The disk takes nothing that this store writes, until it is let go or the test is over. */
export function heldDisk(store: Pick<Store, 'folder'>): { readonly letGo: () => void } {
  const other = openForWriting(dataFileIn(store.folder), false);
  other.exec('BEGIN IMMEDIATE');
  const letGo = (): void => void other.close();
  onTestFinished(letGo);
  return { letGo };
}

export function newRun(run: string, more: Partial<NewRun> = {}): NewRun {
  return {
    run,
    bowl: 'bowl-1',
    header: headerFor(DARK, { engine: 1, condition: 'solid', probeLagS: null }),
    simulated: false,
    startedAtMs: 0,
    startedAtWall: '2026-11-25T09:00:00.000Z',
    source: 'serial',
    ...more,
  };
}

/** All runs out of the bin, newest first. */
export function allRuns(store: { runs(query: RunQuery): RunPage }): readonly RunSummary[] {
  return store.runs({ most: 1_000, after: 0 }).runs;
}

/** `turn` counts from 1, ten a second. */
export function madeTurn(turn: number): Turn {
  const atMs = turn * 100;
  const valueC = Math.round((31 + 4 * Math.sin(turn / 300)) * 100) / 100;
  return {
    input: { atMs, source: 'serial', kind: 'line', text: `T=${valueC.toFixed(2)} \u00b0C` },
    events: [{ seq: turn, atMs, kind: 'act', act: 'stirred' }],
    readings: [{ atMs, role: 'chocolate', valueC, quality: 'good', estimateC: valueC }],
  };
}

/** Turns 1 to `count`. */
export function madeTurns(count: number): Turn[] {
  return Array.from({ length: count }, (_, i) => madeTurn(i + 1));
}

/** A folder that holds one ended run of `count` turns per name, its store closed. */
export async function folderWithRuns(names: readonly string[], count: number): Promise<string> {
  const folder = freshFolder();
  const store = openedStore(folder);
  for (const name of names) {
    store.beginRun(newRun(name));
    for (const turn of madeTurns(count)) store.append(name, turn);
    store.endRun(name, count * 100);
  }
  await store.flush();
  await store.close();
  return folder;
}
