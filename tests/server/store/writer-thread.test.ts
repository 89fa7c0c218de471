/** The writer thread seen from outside: one that dies is told of and replaced. */
import { expect, test } from 'vitest';
import { WriterThread } from '../../../server/store/writer-thread.ts';

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
