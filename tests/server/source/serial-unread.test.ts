/** A port that gives nothing, to the real serial library over a pseudo-terminal: read by others, not to be opened, or silent. What is told of it, and how it ends. */
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { describe, expect, onTestFinished, test, vi } from 'vitest';
import { device, folder, type Heard, listen, PATIENCE, useDevice } from '../../support/heard-port.ts';
import { openPty } from '../../support/pty.ts';

useDevice();

describe('[L11] read by another program too', () => {
  /** A program that opens the port without asking for its lock, as many do. */
  async function readsToo(path: string): Promise<{ readonly pid: number; readonly stop: () => Promise<unknown> }> {
    const other = spawn('sh', ['-c', `exec 3<${path}; echo open; exec cat <&3 >/dev/null`], {
      stdio: ['ignore', 'pipe', 'inherit'],
    });
    onTestFinished(() => void other.kill());
    await once(other.stdout, 'data');
    return {
      pid: other.pid!,
      stop: () => {
        const gone = once(other, 'exit');
        other.kill();
        return gone;
      },
    };
  }

  test('and mute for it: that is said, with its name where the system tells, and is over once it speaks again', async () => {
    const mute = openPty();
    onTestFinished(() => mute.unplug());
    const heard = listen({ path: mute.path, timings: { lookMs: 20, staleMs: 100, lostMs: 60_000 } });
    await heard.up();
    await mute.write('a\nb\n');
    await heard.line('b');
    const other = await readsToo(mute.path);
    const named = `Another program may be reading it: cat (process ${other.pid}).`;
    const said = (): string => {
      const link = heard.links.at(-1)!;
      return link.state === 'up' ? (link.why ?? '') : link.state;
    };
    if (process.platform === 'linux') await vi.waitFor(() => expect(said()).toContain(named), PATIENCE);
    await other.stop();
    await mute.write('c\n');
    await heard.line('c');
    expect(said()).toBe('');
    expect(heard.turns()).toEqual([true]);
  });

  test('and torn by it: that is said too', async () => {
    device.plug();
    const heard = listen({ othersAt: () => Promise.resolve([]) });
    await heard.up();
    const lines = Array.from({ length: 20 }, (_, at) => `31.${10 + at}`);
    const torn = ['3', '31.10', '.40', '31.20', '131', '31.60', '.2'];
    await device.write([...lines, ...torn].map((line) => `${line}\n`).join(''));
    const why = expect.stringContaining('Its lines come torn.') as string;
    await vi.waitFor(() => expect(heard.links.at(-1)).toMatchObject({ state: 'up', why }), PATIENCE);
  });
});

describe('while it can’t be opened', () => {
  test('[L5] it is tried again for ever, with doubling waits up to the longest', async () => {
    const heard = listen({ timings: { retryFirstMs: 5, retryMostMs: 40 } });
    const waits = (): (number | null)[] =>
      heard.links.flatMap((link) => (link.state === 'down' ? [link.retryInMs] : []));
    await vi.waitFor(() => expect(waits().length).toBeGreaterThan(7), PATIENCE);
    expect(waits().slice(0, 7)).toEqual([5, 10, 20, 40, 40, 40, 40]);
    expect(heard.turns()).toEqual([]);
    device.plug();
    await heard.up();
  });

  test.each([
    ['missing', 'nothing-here', 'There is no device at'],
    ['a folder', '.', 'is not a serial port'],
  ])('%s: the cause and an action are told in plain words', async (_name, path, words) => {
    const heard = listen({ path: join(folder, path) });
    await vi.waitFor(
      () => expect(heard.links.at(-1)).toMatchObject({ state: 'down', why: expect.stringContaining(words) as string }),
      PATIENCE,
    );
  });

  test('a port another program holds is told of as busy, and taken when it is free', async () => {
    device.plug();
    const first = listen();
    await first.up();
    const second = listen({ timings: { retryFirstMs: 10 } });
    await vi.waitFor(
      () =>
        expect(second.links.at(-1)).toMatchObject({
          why: expect.stringContaining('Another program is using') as string,
        }),
      PATIENCE,
    );
    await first.source.close();
    await second.up();
  });
});

describe('while it says nothing', () => {
  /** A clock moved by hand: silence is as long as the test says. */
  function handClock(): { nowMs(): number; move(ms: number): void } {
    let now = 0;
    return {
      nowMs: () => now,
      move(ms) {
        now += ms;
      },
    };
  }
  const quick = { retryFirstMs: 10, lookMs: 10 };
  const openings = (heard: Heard): number => heard.links.filter(({ state }) => state === 'down').length;

  test('[L6] after 10 s its port is opened anew, once in each silence, and it is up only when it speaks', async () => {
    device.plug();
    const hand = handClock();
    const heard = listen({ clock: hand, timings: quick });
    await heard.up();
    await device.write('a\nb\n');
    await heard.line('b');
    hand.move(9_999);
    await wait(100);
    expect(heard.turns()).toEqual([true]);
    hand.move(1);
    await heard.down();
    await vi.waitFor(() => expect(heard.links.at(-1)?.state).toBe('looking'), PATIENCE);
    hand.move(3_600_000);
    await wait(200);
    expect(openings(heard)).toBe(1);
    expect(heard.turns()).toEqual([true, false]);
    await device.write('tail\n31.5\n');
    await heard.line('31.5');
    expect(heard.turns()).toEqual([true, false, true]);
    hand.move(10_000);
    await heard.down(2);
  });

  test('[L6] one that speaks every 30 s is learned, and then left alone', async () => {
    device.plug();
    const hand = handClock();
    const heard = listen({ clock: hand, timings: quick });
    await heard.up();
    for (let line = 1; line <= 2; line++) {
      hand.move(30_000);
      await heard.down(line);
      await vi.waitFor(() => expect(heard.links.at(-1)?.state).toBe('looking'), PATIENCE);
      await device.write(`line ${line}\n`);
      await heard.up(line + 1);
    }
    for (let line = 3; line <= 6; line++) {
      hand.move(30_000);
      await wait(100);
      await device.write(`line ${line}\n`);
      await heard.line(`line ${line}`);
    }
    expect(openings(heard)).toBe(2);
  });

  test('an unplug is still seen during a silence, and is no second loss', async () => {
    device.plug();
    const hand = handClock();
    const heard = listen({ clock: hand, timings: quick });
    await heard.up();
    hand.move(10_000);
    await heard.down();
    await vi.waitFor(() => expect(heard.links.at(-1)?.state).toBe('looking'), PATIENCE);
    hand.move(1000);
    device.unplug();
    await vi.waitFor(() => expect(heard.links.at(-1)?.state).toBe('down'), PATIENCE);
    expect(heard.turns()).toEqual([true, false]);
  });
});
