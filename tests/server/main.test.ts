import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { existsSync, mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { setTimeout as wait } from 'node:timers/promises';
import { describe, expect, onTestFinished, test, vi } from 'vitest';
import type { BowlStatus } from '../../server/session/status.ts';
import { openForWriting } from '../../server/store/database.ts';
import type { RunPage } from '../../server/store/records.ts';
import { dataFileIn } from '../../server/store/store.ts';
import { type Config, readConfig } from '../../server/config.ts';
import { type Running, startServer } from '../../server/main.ts';
import { simulatedSource } from '../../server/source/simulated.ts';
import type { Source } from '../../server/source/source.ts';
import { asks } from '../support/asks.ts';
import { PATIENCE_MS } from '../support/patience.ts';
import { program } from '../support/program.ts';
import { BOWL } from '../support/server.ts';
import { Page } from '../support/socket.ts';
import { shipped } from '../support/shipped.ts';
import { folderWithRuns, freshFolder, openedStore } from '../support/store.ts';

function configOf(...words: string[]): Config {
  const read = readConfig(['--listen', '127.0.0.1:0', ...words], { env: {}, platform: 'linux' });
  if (!read.ok) throw new Error(read.complaint);
  return read.config;
}

async function started(...words: string[]): Promise<Running> {
  const result = await startServer(configOf(...words));
  if (!result.ok) throw new Error(result.complaints.join('\n'));
  onTestFinished(() => result.server.stop());
  return result.server;
}

async function json<T>(address: string, path: string): Promise<T> {
  return (await (await fetch(new URL(path, address))).json()) as T;
}

/** Started as a person starts it, in a process of its own that can be killed. */
async function startedApart(folder: string): Promise<{ address: string; child: ChildProcess }> {
  const words = ['serve', '--simulate', '--listen', '127.0.0.1:0', '--data', folder];
  const child = spawn(process.execPath, [program(), ...words], { stdio: ['ignore', 'pipe', 'inherit'] });
  onTestFinished(() => void child.kill('SIGKILL'));
  for await (const line of createInterface(child.stdout)) {
    const address = /http:\/\/\S+/.exec(line)?.[0];
    if (address !== undefined) return { address, child };
  }
  throw new Error('it ended without an address');
}

test('what has lain in the bin for more than 30 days is gone once it starts', async () => {
  const folder = await folderWithRuns(['old', 'young'], 30);
  const store = openedStore(folder);
  const dayMs = 86_400_000;
  store.bin('old', new Date(Date.now() - 31 * dayMs).toISOString());
  store.bin('young', new Date(Date.now() - 29 * dayMs).toISOString());
  await store.flush();
  await store.close();
  const { address } = await started('--simulate', '--data', folder);
  const inBin = async (): Promise<unknown> => (await json<RunPage>(address, '/api/runs?bin=yes')).runs;
  await expect.poll(inBin).toMatchObject([{ run: 'young' }]);
  expect((await fetch(new URL('/api/runs/old', address))).status).toBe(404);
  expect((await fetch(new URL('/api/runs/young', address))).status).toBe(200);
});

describe('the simulated bowl', () => {
  test('begins a run of dark, solid chocolate by itself, labelled as simulated everywhere', async () => {
    const { address, notices } = await started('--simulate', '--data', freshFolder());
    expect(notices.join('\n')).toContain('simulated');
    const page = new Page(address);
    await page.dial();
    await page.until(() => page.info !== null && page.readingCount > 0);
    expect(page.info).toMatchObject({ simulated: true, condition: 'solid', profile: { id: 'dark' } });
    expect(page.heard[0]).toMatchObject({ kind: 'welcome', simulated: true });
    const now = page.heard.findLast((message) => message.kind === 'now');
    expect(now).toMatchObject({ link: { state: 'simulated' } });
    expect(page.faults).toEqual([]);
  });

  test('is one more for each bowl that is added, with a run of its own, and goes with its bowl', async () => {
    const { address } = await started('--simulate', '--data', freshFolder());
    const door = asks(address);
    const { body } = await door.post('/api/bench/bowls', { name: 'milk, left' });
    expect(body).toEqual({ bowl: 'bowl-2', name: 'milk, left' });
    const runOf = async (bowl: string) => (await json<BowlStatus>(address, `/api/bowls/${bowl}`)).info?.run;
    await expect.poll(() => runOf('bowl-2'), { timeout: 10_000 }).toBeDefined();
    expect(await runOf('bowl-2')).not.toBe(await runOf('bowl-1'));
    expect(await door.remove('/api/bench/bowls/bowl-2')).toMatchObject({ status: 409 });
    await door.post('/api/bowls/bowl-2/commands', { name: 'end' });
    const page = new Page(address);
    await page.dial({ bowl: 'bowl-2' });
    await page.first('now');
    expect(await door.remove('/api/bench/bowls/bowl-2')).toMatchObject({ status: 200 });
    expect(await page.first('refused')).toMatchObject({ reason: 'no-such-bowl' });
    expect(await json(address, '/api/bench')).toMatchObject({ thermometers: [{ thermometer: 'simulated-bowl' }] });
  });

  test('begins at the phase that a flag names, with the profile that a flag names', async () => {
    const { address } = await started('--simulate', '--profile', 'milk', '--start-at', 'cool', '--data', freshFolder());
    const page = new Page(address);
    await page.dial();
    await page.until(() => page.events.some(({ kind }) => kind === 'phase-entered'));
    expect(page.info).toMatchObject({ profile: { id: 'milk' }, condition: 'melted' });
    expect(page.events.find(({ kind }) => kind === 'phase-entered')).toMatchObject({ phase: 'cool', from: null });
  });
});

describe('profiles of one’s own', () => {
  test('can be named by a flag; a damaged file among them is told of and keeps nothing from starting', async () => {
    const folder = freshFolder();
    mkdirSync(join(folder, 'profiles'));
    const mine = { ...shipped('milk'), id: 'mine', title: 'Mine' };
    writeFileSync(join(folder, 'profiles', 'mine.json'), JSON.stringify(mine));
    writeFileSync(join(folder, 'profiles', 'half.json'), '{"id":');
    const { address, notices } = await started('--simulate', '--profile', 'mine', '--data', folder);
    expect(notices.join('\n')).toContain('half.json: line 1');
    await expect.poll(() => json<BowlStatus>(address, `/api/bowls/${BOWL}`)).toMatchObject({ info: { profile: mine } });
    const profiles = await json<readonly { readonly id: string }[]>(address, '/api/profiles');
    expect(profiles.map(({ id }) => id)).toEqual(['dark', 'milk', 'white', 'mine']);
  });
});

describe('a thermometer at a named port', () => {
  test('that is not there yet: no run, no simulated bowl, and words about it', async () => {
    const { address, notices } = await started('--port', '/no/such/port', '--data', freshFolder());
    expect(notices.join('\n')).not.toContain('simulated');
    const status = await json<BowlStatus>(address, `/api/bowls/${BOWL}`);
    expect(status).toMatchObject({ state: 'waiting', simulated: false, chosen: { profile: null } });
    expect(['looking', 'down']).toContain(status.link.state);
  });
});

describe('a bell command', () => {
  test('that is not there is told at the start, and to every page', async () => {
    const words = ['--simulate', '--bell-command', '/no/such/bell', '--data', freshFolder()];
    const { address, notices } = await started(...words);
    expect(notices).toContain('The bell command cannot ring: there is no program /no/such/bell.');
    const page = new Page(address);
    await page.dial();
    expect((await page.first('now')).bellTrouble).toContain('/no/such/bell');
  });

  test('that is there is not spoken of', async () => {
    const { notices } = await started('--simulate', '--bell-command', process.execPath, '--data', freshFolder());
    expect(notices.join('\n')).not.toMatch(/bell/i);
  });
});

describe('the lag of a probe', () => {
  test('is remembered for its thermometer; a flag wins, and is gone with the next start', async () => {
    const data = ['--data', freshFolder()];
    const words = ['--port', '/no/such/port', ...data];
    const first = await started(...words);
    const response = await fetch(new URL(`/api/bowls/${BOWL}/probe`, first.address), {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: '{"lagS":4.5}',
    });
    expect(response.status).toBe(200);
    await first.stop();
    expect(await lagAfterStart(...words)).toEqual({ lagS: 4.5, from: 'said', measuredAtWall: null });
    expect(await lagAfterStart(...words, '--probe-lag', '2')).toMatchObject({ lagS: 2, from: 'flag' });
    expect(await lagAfterStart(...words)).toMatchObject({ lagS: 4.5, from: 'said' });
    expect(await lagAfterStart(...data, '--port', '/no/such/other')).toBeNull();
  });

  async function lagAfterStart(...words: string[]): Promise<BowlStatus['probeLag']> {
    const { address, stop } = await started(...words);
    const { probeLag } = await json<BowlStatus>(address, `/api/bowls/${BOWL}`);
    await stop();
    return probeLag;
  }
});

describe('stopping', () => {
  const LOOK_MS = 20;
  const LOOKS = PATIENCE_MS / LOOK_MS;

  test('leaves nothing running: the address is free, the folder is free, no timer and no socket is left', async () => {
    const folder = freshFolder();
    const before = process.getActiveResourcesInfo();
    const result = await startServer(configOf('--simulate', '--data', folder));
    if (!result.ok) throw new Error(result.complaints.join('\n'));
    const { address, stop } = result.server;
    const page = new Page(address);
    await page.dial();
    await page.first('now');
    await Promise.all([stop(), stop()]);
    page.leave();
    await expect(fetch(address)).rejects.toThrow();
    // Asked for here, as whoever polls has a timer of its own.
    for (let looks = 0; looks < LOOKS && comeSince(before).length > 0; looks++) await wait(LOOK_MS);
    expect(comeSince(before)).toEqual([]);
    const again = await started('--simulate', '--data', folder);
    expect(again.address).toContain('127.0.0.1');
  });

  /** What keeps this process alive and did not before; what other tests let go of meanwhile is nothing of ours. */
  function comeSince(before: readonly string[]): string[] {
    const known = [...before];
    return process.getActiveResourcesInfo().filter((each) => {
      const at = known.indexOf(each);
      if (at >= 0) known.splice(at, 1);
      return at < 0;
    });
  }

  test('Ctrl-C, or a request to end, ends the program with 0', async () => {
    for (const signal of ['SIGINT', 'SIGTERM'] as const) {
      const { child } = await startedApart(freshFolder());
      const ended = once(child, 'exit');
      child.kill(signal);
      expect(await ended).toEqual([0, null]);
    }
  });
});

test('a request to end while the data are still being looked at is not kept waiting', async () => {
  const folder = await folderWithRuns(['r1'], 10);
  // Whoever waits for the file to be free is as deaf as who reads a gigabyte of it.
  const holder = openForWriting(dataFileIn(folder), false);
  onTestFinished(() => void holder.close());
  holder.pragma('locking_mode = EXCLUSIVE');
  holder.exec('BEGIN IMMEDIATE; UPDATE runs SET seq = seq; COMMIT');
  const child = spawn(process.execPath, [program(), 'serve', '--simulate', '--data', folder], { stdio: 'ignore' });
  onTestFinished(() => void child.kill('SIGKILL'));
  const ended = once(child, 'exit');
  await expect.poll(() => existsSync(join(folder, 'server.pid'))).toBe(true);
  child.kill('SIGTERM');
  // With 1 it would have waited, and given up the file.
  expect(await ended).toEqual([null, 'SIGTERM']);
});

test('what became of a damaged data file stands on the page too', async () => {
  const folder = await folderWithRuns(['r1'], 10);
  writeFileSync(dataFileIn(folder), 'no database');
  const { address, notices } = await started('--simulate', '--data', folder);
  const kept = await json<{ notices: readonly string[] }>(address, '/api/backups');
  expect(kept.notices).toEqual([expect.stringContaining('The data file was damaged')]);
  expect(notices).toEqual(expect.arrayContaining(kept.notices as string[]));
});

describe('what keeps it from starting is told in a sentence', () => {
  test('an address in use', async () => {
    const { address } = await started('--simulate', '--data', freshFolder());
    const { host } = new URL(address);
    const second = await startServer({ ...configOf('--simulate', '--data', freshFolder()), listen: listenOf(host) });
    expect(second).toMatchObject({ ok: false, exit: 1, complaints: [expect.stringContaining('--listen')] });
  });

  test('a data folder in use', async () => {
    const folder = freshFolder();
    await started('--simulate', '--data', folder);
    const second = await startServer(configOf('--simulate', '--data', folder));
    expect(second).toMatchObject({ ok: false, exit: 1, complaints: [expect.stringContaining('--data')] });
  });

  test('no profiles', async () => {
    const places = { ...(await import('../../server/places.ts')).installedPlaces(), profilesFolder: freshFolder() };
    expect(await startServer(configOf('--simulate', '--data', freshFolder()), places)).toMatchObject({
      ok: false,
      exit: 2,
    });
  });

  function listenOf(host: string): Config['listen'] {
    return { host: host.split(':')[0]!, port: Number(host.split(':')[1]) };
  }
});

describe('after a kill', () => {
  test('the next server goes on with the same run in the same phase, and has all that was shown as recorded', async () => {
    const folder = freshFolder();
    const first = await startedApart(folder);
    const page = new Page(first.address);
    await page.dial();
    await page.until(() => page.recordedTo >= 2 && page.readingCount >= 4);
    const { recordedTo, events } = page;
    const { run } = page.info!;
    first.child.kill('SIGKILL');
    await once(first.child, 'exit');

    const second = await startedApart(folder);
    const later = new Page(second.address);
    await later.dial();
    await later.until(() => later.events.some(({ kind, atMs }) => kind === 'link' && atMs > events.at(-1)!.atMs));
    expect(later.info).toMatchObject({ run, resumed: true });
    expect(later.events.slice(0, recordedTo)).toEqual(events.slice(0, recordedTo));
    expect(later.events.filter(({ kind }) => kind === 'run-started')).toHaveLength(1);
    const { runs } = await json<RunPage>(second.address, '/api/runs');
    expect(runs.map((summary) => summary.run)).toEqual([run]);
  });

  test('the simulated bowl is where it would be if nobody had stopped it', () => {
    const after20Minutes = { nowMs: () => 20 * 60_000 };
    const firstC = (begunAtMs?: number): number => {
      const profile = shipped('dark');
      const more = begunAtMs === undefined ? {} : { begunAtMs };
      return firstReadingC(simulatedSource({ clock: after20Minutes, profile, seed: 1, ...more }));
    };
    expect(firstC()).toBeLessThan(28);
    expect(firstC(0)).toBeGreaterThan(30);
  });

  function firstReadingC(source: Source): number {
    vi.useFakeTimers();
    onTestFinished(() => void vi.useRealTimers());
    const lines: string[] = [];
    source.start({ input: (input) => input.kind === 'line' && lines.push(input.text), link: () => {} });
    vi.advanceTimersByTime(1000);
    void source.close();
    return Number(lines[0]);
  }

  test('a run of the simulated bowl does not go on with a real thermometer', async () => {
    const folder = freshFolder();
    const first = await started('--simulate', '--data', folder);
    const page = new Page(first.address);
    await page.dial();
    await page.until(() => page.recordedTo >= 2);
    await first.stop();
    const second = await started('--port', '/no/such/port', '--data', folder);
    expect(await json<BowlStatus>(second.address, `/api/bowls/${BOWL}`)).toMatchObject({ state: 'waiting' });
    await expect
      .poll(() => json<RunPage>(second.address, '/api/runs'))
      .toMatchObject({ runs: [{ endedAtMs: expect.any(Number) }] });
  });
});
