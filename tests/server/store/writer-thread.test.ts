/** The writer thread seen from outside: when it is started; one that dies is told of and replaced. */
import { expect, onTestFinished, test, vi } from 'vitest';
import { WriterThread } from '../../../server/store/writer-thread.ts';

test('a writer is there two seconds after it is asked for, though nothing is written; one that is closed before never is', async () => {
  vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout'] });
  onTestFinished(() => void vi.useRealTimers());
  const script = new URL(
    `data:text/javascript,import { parentPort } from 'node:worker_threads';
    parentPort.postMessage({ kind: 'failed', reason: 'here' });
    parentPort.once('message', () => parentPort.close())`,
  );
  const closed = new WriterThread(script, 'unused', { committed: () => {}, failed: () => {} });
  await closed.close();
  expect(vi.getTimerCount()).toBe(0);
  let thread: WriterThread | null = null;
  const heard = new Promise<string>((failed) => {
    thread = new WriterThread(script, 'unused', { committed: () => {}, failed });
  });
  vi.advanceTimersByTime(2_000);
  expect(await heard).toBe('here');
  expect(await thread!.close()).toBe(true);
});

test('a writer that dies fails its batch, and the next batch gets another writer', async () => {
  const script = new URL(
    `data:text/javascript,import { parentPort } from 'node:worker_threads';
    parentPort.once('message', () => { throw new Error('worn out') })`,
  );
  let failed: (reason: string) => void = () => {};
  const thread = new WriterThread(script, 'unused', { committed: () => {}, failed: (reason) => failed(reason) });
  for (let batch = 1; batch <= 2; batch++) {
    const failure = new Promise<string>((resolve) => (failed = resolve));
    thread.post([]);
    expect(await failure).toBe('the writer stopped: worn out');
  }
  await thread.close();
});

test('a writer that cannot be found fails in words', async () => {
  const failure = new Promise<string>((resolve) => {
    const script = new URL('file:///nowhere/writer.js');
    const thread = new WriterThread(script, 'unused', { committed: () => {}, failed: resolve });
    thread.post([]);
  });
  expect(await failure).toContain('the writer stopped');
});

test('a writer that there is no room for ends nothing: its batch fails in words', async () => {
  vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout'] });
  onTestFinished(() => void vi.useRealTimers());
  // Refused at once, as a thread is that the system has no room for.
  const script = new URL('none:writer.js');
  let failed: (reason: string) => void = () => {};
  const thread = new WriterThread(script, 'unused', { committed: () => {}, failed: (reason) => failed(reason) });
  vi.advanceTimersByTime(2_000);
  const failure = new Promise<string>((resolve) => (failed = resolve));
  thread.post([]);
  expect(await failure).toContain('the writer cannot be started: ');
  expect(await thread.close()).toBe(true);
});
