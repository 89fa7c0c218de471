/** Lines to a stream that is slow, or gone. */
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { Writable } from 'node:stream';
import { describe, expect, it } from 'vitest';
import { linesTo } from '../../../server/commands/line-output.ts';

describe('lines to a stream', () => {
  it('wait while it is full and go on when it has room', async () => {
    const taken: string[] = [];
    const slow = new Writable({
      highWaterMark: 8,
      write: (chunk: Buffer, _encoding, done) => {
        taken.push(chunk.toString());
        setImmediate(done);
      },
    });
    const out = linesTo(slow);
    for (let line = 0; line < 100; line += 1) {
      await out(`line ${line}`);
      expect(slow.writableLength).toBeLessThan(16);
    }
    slow.end();
    await once(slow, 'finish');
    expect(taken).toHaveLength(100);
    expect(taken[99]).toBe('line 99\n');
  });

  it('are dropped without a word once nobody reads any more', async () => {
    const reader = spawn(process.execPath, ['-e', 'process.stdin.once("data", () => process.exit())'], {
      stdio: ['pipe', 'ignore', 'ignore'],
    });
    const out = linesTo(reader.stdin);
    const ended = once(reader, 'exit');
    await out('the only line that is read');
    await ended;
    for (let line = 0; line < 10_000; line += 1) await out('a line that nobody reads'.repeat(10));
    expect(reader.stdin.writable).toBe(false);
  });

  it('are dropped in the same way where nothing may end for them, and break what they are for elsewhere', async () => {
    const full = (): Writable =>
      new Writable({
        write: (_chunk, _encoding, done) => done(Object.assign(new Error('no room'), { code: 'ENOSPC' })),
      });
    const [borne, broken] = [full(), full()];
    const out = linesTo(borne, true);
    const errors = once(borne, 'error');
    await out('a line');
    await errors;
    await out('another one');
    expect(borne.writable).toBe(false);
    linesTo(broken);
    expect(() => broken.emit('error', Object.assign(new Error('no room'), { code: 'ENOSPC' }))).toThrow('no room');
  });
});
