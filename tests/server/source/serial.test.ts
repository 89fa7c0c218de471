/** The serial source over a pseudo-terminal opened by the real serial library. Times are waited for, never judged, but for bounds promised. */
import { readdirSync, rmSync, symlinkSync } from 'node:fs';
import { setTimeout as wait } from 'node:timers/promises';
import { describe, expect, onTestFinished, test, vi } from 'vitest';
import { locatePort, type PortIdentity } from '../../../server/source/ports.ts';
import { openPort, type ListedPort } from '../../../server/source/serial-port.ts';
import { clock, device, listen, PATIENCE, useDevice } from '../../support/heard-port.ts';
import { openPty } from '../../support/pty.ts';

useDevice();

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
