/** The serial source over a pseudo-terminal opened by the real serial library. Times are waited for, never judged, but for bounds promised. */
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, readdirSync, rmSync, symlinkSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { afterEach, beforeEach, describe, expect, onTestFinished, test, vi } from 'vitest';
import type { RecordedInput } from '../../../server/core/record/input.ts';
import type { LinkState } from '../../../server/core/show/wire.ts';
import { locatePort, type PortIdentity } from '../../../server/source/ports.ts';
import { openPort, type ListedPort } from '../../../server/source/serial-port.ts';
import { serialSource, type SerialOptions } from '../../../server/source/serial.ts';
import type { Source } from '../../../server/source/source.ts';
import { PATIENCE_MS } from '../../support/patience.ts';
import { openPty, pluggable, type Pluggable } from '../../support/pty.ts';

const PATIENCE = { timeout: PATIENCE_MS, interval: 5 };

interface Heard {
  readonly source: Source;
  readonly inputs: RecordedInput[];
  readonly links: LinkState[];
  lines(): string[];
  /** Ups and downs in their order. */
  turns(): boolean[];
  /** Waits until the link has come up this many times. */
  up(times?: number): Promise<void>;
  down(times?: number): Promise<void>;
  line(text: string): Promise<void>;
}

const startedMs = performance.now();
const clock = { nowMs: (): number => Math.round(performance.now() - startedMs) };

let folder: string;
let device: Pluggable;
let running: Source[];

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'bowlside-serial-'));
  device = pluggable(folder);
  running = [];
});

afterEach(async () => {
  await Promise.all(running.map((source) => source.close()));
  device.unplug();
  rmSync(folder, { recursive: true });
});

type Given = Partial<Omit<SerialOptions, 'path' | 'identity'>> & { path?: string; identity?: PortIdentity };

/** At a speed that was named, unless the test has one searched. */
function listen({ path = device.path, identity, ...rest }: Given = {}): Heard {
  const source = serialSource({ ...(identity ? { identity } : { path }), clock, baud: 9600, ...rest });
  running.push(source);
  const inputs: RecordedInput[] = [];
  const links: LinkState[] = [];
  const turns = (): boolean[] => inputs.flatMap((input) => (input.kind === 'link' ? [input.up] : []));
  const lines = (): string[] => inputs.flatMap((input) => (input.kind === 'line' ? [input.text] : []));
  source.start({ input: (input) => inputs.push(input), link: (state) => links.push(state) });
  const turned = (up: boolean, times: number): Promise<void> =>
    vi.waitFor(() => expect(turns().filter((turn) => turn === up)).toHaveLength(times), PATIENCE);
  return {
    source,
    inputs,
    links,
    lines,
    turns,
    up: (times = 1) => turned(true, times),
    down: (times = 1) => turned(false, times),
    line: (text) => vi.waitFor(() => expect(lines()).toContain(text), PATIENCE),
  };
}

describe('while it is plugged in', () => {
  test('lines arrive as sent, one character a byte, stamped by the clock given', async () => {
    device.plug();
    const heard = listen();
    await heard.up();
    await device.write('tail\n31.25 \xb0C\r\n31.50\r31.75\n\r');
    await heard.line('31.75');
    expect(heard.lines()).toEqual(['31.25 \xb0C', '31.50', '31.75']);
    const times = heard.inputs.map((input) => input.atMs);
    expect(times).toEqual([...times].sort((a, b) => a - b));
    expect(times.every(Number.isInteger)).toBe(true);
    expect(new Set(heard.inputs.map((input) => input.source))).toEqual(new Set([heard.source.id]));
    expect(heard.links.map(({ state }) => state)).toEqual(['looking', 'up']);
  });

  test('[L3] the first line after opening is left out: it may be the tail of one', async () => {
    device.plug();
    const heard = listen();
    await heard.up();
    await device.write('1.5\r\n31.6\r\n');
    await heard.line('31.6');
    expect(heard.lines()).toEqual(['31.6']);
  });

  test('a line without end is told of once, even as the first, and the next one is read well', async () => {
    device.plug();
    const heard = listen();
    await heard.up();
    await device.write(`${'x'.repeat(100_000)}\r\n31.6\r\n`);
    await heard.line('31.6');
    expect(heard.lines()).toEqual(['x'.repeat(513), '31.6']);
  });

  test('[L8] closing lets go of everything, twice over, and nothing is told afterwards', async () => {
    device.plug();
    const before = descriptors();
    const heard = listen();
    await heard.up();
    await device.write('a\nb\n');
    await heard.line('b');
    await heard.source.close();
    await heard.source.close();
    const told = heard.inputs.length + heard.links.length;
    await device.write('c\n');
    device.unplug();
    device.plug();
    await wait(300);
    expect(heard.inputs.length + heard.links.length).toBe(told);
    expect(descriptors()).toBeLessThanOrEqual(before);
  });

  test('closing while the port is being opened leaves no port open', async () => {
    device.plug();
    const before = descriptors();
    const heard = listen();
    await heard.source.close();
    expect(heard.turns()).toEqual([]);
    expect(descriptors()).toBeLessThanOrEqual(before);
  });
});

describe('unplugged and plugged in again', () => {
  test('[L4] an unplug is one link down within 3 s', async () => {
    device.plug();
    const heard = listen();
    await heard.up();
    await device.write('a\nb\n');
    await heard.line('b');
    // The read that follows the line is waiting by then.
    await wait(100);
    const pulledAtMs = clock.nowMs();
    device.unplug();
    await heard.down();
    const down = heard.inputs.at(-1);
    expect(down).toMatchObject({ kind: 'link', up: false, why: expect.stringContaining('unplugged') as string });
    expect(down!.atMs - pulledAtMs).toBeLessThan(3000);
    await vi.waitFor(
      () => expect(heard.links.filter(({ state }) => state === 'down').length).toBeGreaterThan(1),
      PATIENCE,
    );
    expect(heard.turns()).toEqual([true, false]);
  });

  test('[L4] an unplug in the middle of a read, which the library misses, is seen too, and no core is left spinning', async () => {
    device.plug();
    const heard = listen();
    await heard.up();
    for (let lines = 0; lines < 20; lines++) await device.write(`${lines}\r\n`);
    const pulledAtMs = clock.nowMs();
    device.unplug();
    await heard.down();
    expect(heard.inputs.at(-1)!.atMs - pulledAtMs).toBeLessThan(3000);
    const usedBefore = process.cpuUsage();
    await wait(1000);
    const { user, system } = process.cpuUsage(usedBefore);
    expect((user + system) / 1e6).toBeLessThan(0.5);
    expect(heard.turns()).toEqual([true, false]);
  });

  test('[L5] a replug at the same path is opened by itself and read on', async () => {
    device.plug();
    const heard = listen();
    await heard.up();
    await device.write('a\n31.5\n');
    await heard.line('31.5');
    device.unplug();
    await heard.down();
    device.plug();
    await heard.up(2);
    await device.write('tail\n29.5\n');
    await heard.line('29.5');
    expect(heard.lines()).toEqual(['31.5', '29.5']);
    expect(heard.turns()).toEqual([true, false, true]);
  });

  test('[L3] halves of two lines are never glued to one', async () => {
    device.plug();
    const heard = listen();
    await heard.up();
    await device.write('30.9\n31.0\n31.');
    await heard.line('31.0');
    device.unplug();
    await heard.down();
    device.plug();
    await heard.up(2);
    await device.write('29.50\r\n29.60\r\n');
    await heard.line('29.60');
    expect(heard.lines()).toEqual(['31.0', '29.60']);
  });

  test('another device put behind the same path is a loss and an opening, though the old one is still plugged in', async () => {
    const [old, anew] = [openPty(), openPty()];
    symlinkSync(old.path, device.path);
    const heard = listen();
    await heard.up();
    rmSync(device.path);
    symlinkSync(anew.path, device.path);
    await heard.down();
    await heard.up(2);
    await anew.write('a\n31.5\n');
    await heard.line('31.5');
    old.unplug();
    anew.unplug();
  });

  test('[L8] twenty replugs, at once, in the middle of a line and of a read, leave as many descriptors open as one', async () => {
    const heard = listen({ timings: { retryFirstMs: 10, lookMs: 50 } });
    const open: number[] = [];
    for (let cycle = 1; cycle <= 20; cycle++) {
      device.plug();
      await heard.up(cycle);
      if (cycle % 3 !== 0) await device.write(`tail\ncycle ${cycle}\n31.`);
      if (cycle % 3 === 1) await heard.line(`cycle ${cycle}`);
      device.unplug();
      await heard.down(cycle);
      await vi.waitFor(() => expect(heard.links.at(-1)?.state).toBe('down'), PATIENCE);
      open.push(descriptors());
    }
    expect(open.at(-1)).toBeLessThanOrEqual(open[1]! + 1);
    expect(heard.turns()).toEqual(Array.from({ length: 40 }, (_, turn) => turn % 2 === 0));
    expect(heard.lines().every((line) => /^cycle \d+$/.test(line))).toBe(true);
  });
});

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

describe('the port itself', () => {
  test('[L9] takes another speed while it stays open, and what is sent to it comes out at the other end', async () => {
    const other = openPty();
    onTestFinished(() => other.unplug());
    const lines: [string, boolean][] = [];
    const opened = await openPort(other.path, 9600, {
      bytes: () => {},
      line: (text, whole) => lines.push([text, whole]),
      gone: () => {},
    });
    if (!opened.ok) throw new Error(opened.message);
    onTestFinished(() => opened.port.close());
    await other.write('a\nb\n');
    await vi.waitFor(() => expect(lines).toHaveLength(2), PATIENCE);
    expect(await opened.port.setBaud(115_200)).toBe(true);
    await other.write('c\nd\n');
    await vi.waitFor(() => expect(lines).toHaveLength(4), PATIENCE);
    expect(lines).toEqual([
      ['a', false],
      ['b', true],
      ['c', false],
      ['d', true],
    ]);
    expect(await opened.port.send('READ?\r\n')).toBe(true);
    let taken = '';
    await vi.waitFor(async () => expect((taken += await other.taken())).toBe('READ?\r\n'), PATIENCE);
    await opened.port.close();
    expect(await opened.port.setBaud(9600)).toBe(false);
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

describe('known by its USB identity', () => {
  const identity: PortIdentity = {
    vendorId: '1209',
    productId: '0001',
    serialNumber: 'bowl-7',
    position: null,
    path: '/dev/ttyUSB0',
  };
  const listed = (path: string, serialNumber: string): ListedPort => ({
    path,
    vendorId: identity.vendorId,
    productId: identity.productId,
    serialNumber,
    position: null,
    maker: null,
  });

  test('[L7] it is found again under another path, and its double beside it is left alone', async () => {
    const [old, anew, double] = [openPty(), openPty(), openPty()];
    let ports = [listed(double.path, 'bowl-8'), listed(old.path, 'bowl-7')];
    const heard = listen({
      identity,
      locate: (wanted) => locatePort(wanted, () => Promise.resolve({ ok: true, ports })),
    });
    await heard.up();
    expect(heard.links.at(-1)).toEqual({ state: 'up', label: old.path, asks: null });
    ports = [listed(double.path, 'bowl-8')];
    old.unplug();
    await heard.down();
    await vi.waitFor(
      () => expect(heard.links.at(-1)).toMatchObject({ why: 'The thermometer is not plugged in.' }),
      PATIENCE,
    );
    ports = [listed(double.path, 'bowl-8'), listed(anew.path, 'bowl-7')];
    await heard.up(2);
    expect(heard.links.at(-1)).toEqual({ state: 'up', label: anew.path, asks: null });
    await anew.write('a\n31.5\n');
    await heard.line('31.5');
    await heard.source.close();
    anew.unplug();
    double.unplug();
  });
});

function descriptors(): number {
  return readdirSync('/dev/fd').length;
}
