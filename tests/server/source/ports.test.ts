/** Which port is the thermometer. Lists are given; none is opened. */
import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, onTestFinished, test } from 'vitest';
import {
  allPorts,
  findPort,
  knownAs,
  locatePort,
  socketsByPath,
  thermometerId,
  type PortIdentity,
} from '../../../server/source/ports.ts';
import {
  callOutPath,
  listedPort,
  listPorts,
  type ListedPort,
  type ListPorts,
} from '../../../server/source/serial-port.ts';

function usb(path: string, serialNumber: string | null = null, position: string | null = null): ListedPort {
  return { path, vendorId: '1209', productId: '0001', serialNumber, position, maker: null };
}

function builtIn(path: string): ListedPort {
  return { path, vendorId: null, productId: null, serialNumber: null, position: null, maker: null };
}

function listing(...ports: ListedPort[]): ListPorts {
  return () => Promise.resolve({ ok: true, ports });
}

function remembered(path: string, serialNumber: string | null = null, position: string | null = null): PortIdentity {
  return { vendorId: '1209', productId: '0001', serialNumber, position, path };
}

const noList: ListPorts = () => Promise.resolve({ ok: false, why: 'spawn udevadm ENOENT' });

describe('the port to open by itself', () => {
  test('is the only USB serial port; built-in ones do not count', async () => {
    const found = await findPort(null, listing(builtIn('/dev/ttyS0'), usb('/dev/ttyUSB3', 'a'), builtIn('/dev/ttyS1')));
    expect(found).toMatchObject({ kind: 'one', path: '/dev/ttyUSB3', identity: { serialNumber: 'a' } });
  });

  test('is none among several: nobody guesses', async () => {
    const found = await findPort(null, listing(usb('/dev/ttyUSB0', 'a'), usb('/dev/ttyUSB1', 'b')));
    expect(found).toMatchObject({ kind: 'several', ports: [{ path: '/dev/ttyUSB0' }, { path: '/dev/ttyUSB1' }] });
  });

  test('is none where there are only built-in ports, and none where ports cannot be listed: both are said', async () => {
    expect(await findPort(null, listing(builtIn('/dev/ttyS0')))).toMatchObject({
      kind: 'none',
      why: expect.stringMatching(/^No USB serial port is plugged in\. .*cable/) as string,
    });
    expect(await findPort(null, noList)).toMatchObject({
      kind: 'none',
      why: expect.stringContaining('udevadm') as string,
    });
  });

  test('is the remembered one among several', async () => {
    const found = await findPort(
      remembered('/dev/ttyUSB0', 'b'),
      listing(usb('/dev/ttyUSB0', 'a'), usb('/dev/ttyUSB1', 'b')),
    );
    expect(found).toMatchObject({ kind: 'one', path: '/dev/ttyUSB1' });
  });

  test('is the only one, though another is remembered that is not there', async () => {
    const found = await findPort(remembered('/dev/ttyUSB0', 'b'), listing(usb('/dev/ttyUSB0', 'a')));
    expect(found).toMatchObject({ kind: 'one', identity: { serialNumber: 'a' } });
  });

  test('listing this system’s own ports never rejects', async () => {
    const list = await listPorts();
    expect(list.ok ? list.ports.every(({ path }) => path.length > 0) : list.why.length > 0).toBe(true);
  });

  test('has no serial number where Windows made one up from its socket', () => {
    const made = {
      path: 'COM4',
      manufacturer: 'Workshop',
      serialNumber: '5&2C1A3B4D&0&2',
      vendorId: '1A86',
      productId: '7523',
    };
    const listed = { path: 'COM4', vendorId: '1a86', productId: '7523', serialNumber: null, maker: 'Workshop' };
    const rest = { pnpId: undefined, locationId: undefined };
    expect(listedPort({ ...made, ...rest })).toEqual({ ...listed, position: '5&2C1A3B4D&0&2' });
    expect(listedPort({ ...made, ...rest, locationId: 'Port_#0002.Hub_#0003' })).toEqual({
      ...listed,
      position: 'Port_#0002.Hub_#0003',
    });
    expect(listedPort({ ...made, ...rest, serialNumber: 'A7' })).toEqual({
      ...listed,
      serialNumber: 'A7',
      position: null,
    });
  });

  test('stands before the built-in ones and those over the air where all are shown', async () => {
    const air = { ...builtIn('/dev/rfcomm0'), maker: null };
    const { usb: first, others } = await allPorts(listing(builtIn('/dev/ttyS0'), air, usb('/dev/ttyUSB0', 'a')));
    expect(first.map(({ path }) => path)).toEqual(['/dev/ttyUSB0']);
    expect(others).toEqual([
      { path: '/dev/ttyS0', label: '/dev/ttyS0' },
      { path: '/dev/rfcomm0', label: '/dev/rfcomm0' },
    ]);
  });

  test('goes by its call-out name on macOS', () => {
    expect(callOutPath('/dev/tty.usbserial-1')).toBe('/dev/cu.usbserial-1');
    expect(callOutPath('/dev/ttyUSB0')).toBe('/dev/ttyUSB0');
  });
});

describe('a remembered device', () => {
  test('with a serial number is found under any path, whatever else is plugged in', async () => {
    const serials = fc.uniqueArray(fc.stringMatching(/^[a-z0-9]{1,6}$/), { minLength: 1, maxLength: 6 });
    await fc.assert(
      fc.asyncProperty(serials, fc.nat(), fc.nat(), async (all, pick, rotate) => {
        const wanted = all[pick % all.length]!;
        const ports = all.map((serial, at) => usb(`/dev/ttyUSB${(at + rotate) % all.length}`, serial));
        const found = await locatePort(remembered('/dev/ttyUSB0', wanted), listing(...ports));
        expect(found).toMatchObject({ kind: 'one', identity: { serialNumber: wanted } });
      }),
      { seed: 20_260_103 },
    );
  });

  test('is never replaced by another one', async () => {
    const found = await locatePort(remembered('/dev/ttyUSB0', 'b'), listing(usb('/dev/ttyUSB0', 'a')));
    expect(found).toEqual({ kind: 'none', why: 'The thermometer is not plugged in.' });
  });

  test('without a serial number is told from its double by its socket', async () => {
    const list = listing(usb('/dev/ttyUSB0', null, 'left'), usb('/dev/ttyUSB1', null, 'right'));
    expect(await locatePort(remembered('/dev/ttyUSB0', null, 'right'), list)).toMatchObject({ path: '/dev/ttyUSB1' });
  });

  test('is told from its double by its path where sockets are not known', async () => {
    const list = listing(usb('/dev/ttyUSB0'), usb('/dev/ttyUSB1'));
    expect(await locatePort(remembered('/dev/ttyUSB1'), list)).toMatchObject({ kind: 'one', path: '/dev/ttyUSB1' });
  });

  test('is a question where its double stands beside it in number too, and neither in its socket', async () => {
    const twins = [usb('/dev/ttyUSB0', '0001', 'left'), usb('/dev/ttyUSB1', '0001', 'right')];
    expect(await locatePort(remembered('/dev/ttyUSB0', '0001', 'middle'), listing(...twins))).toMatchObject({
      kind: 'several',
    });
    expect(await locatePort(remembered('/dev/ttyUSB0', '0001', 'left'), listing(...twins))).toMatchObject({
      kind: 'one',
      path: '/dev/ttyUSB0',
    });
  });

  test('with two ports of its own is told from the other by its path', async () => {
    const list = listing(usb('/dev/cu.a1', 'a', '01100000'), usb('/dev/cu.a3', 'a', '01100000'));
    expect(await locatePort(remembered('/dev/cu.a3', 'a', '01100000'), list)).toMatchObject({ path: '/dev/cu.a3' });
  });

  test('is a question where both doubles stand in other sockets', async () => {
    const list = listing(usb('/dev/ttyUSB0', null, 'left'), usb('/dev/ttyUSB1', null, 'right'));
    expect(await locatePort(remembered('/dev/ttyUSB0', null, 'middle'), list)).toMatchObject({ kind: 'several' });
  });

  test('without a serial number, one of its kind in another socket is a question, even alone: it may be its double', async () => {
    const list = listing(usb('/dev/ttyUSB4', null, 'left'));
    const found = await locatePort(remembered('/dev/ttyUSB0', null, 'right'), list);
    expect(found).toMatchObject({ kind: 'several', ports: [{ path: '/dev/ttyUSB4' }] });
    // At a start there is no run to spoil: the only one there is is opened.
    expect(await findPort(remembered('/dev/ttyUSB0', null, 'right'), list)).toMatchObject({ kind: 'one' });
  });

  test('with a serial number is found in any socket', async () => {
    const list = listing(usb('/dev/ttyUSB4', 'a', 'left'));
    expect(await locatePort(remembered('/dev/ttyUSB0', 'a', 'right'), list)).toMatchObject({ path: '/dev/ttyUSB4' });
  });
});

describe('the name of a thermometer', () => {
  test('is its serial number, else its socket, else its path; that of a port with no USB identity is its path', () => {
    expect(thermometerId({ identity: remembered('/dev/ttyUSB0', 'b', 'left') })).toBe('usb:1209:0001:b');
    expect(thermometerId({ identity: remembered('/dev/ttyUSB0', null, 'left') })).toBe('usb:1209:0001:left');
    expect(thermometerId({ identity: remembered('/dev/ttyUSB0') })).toBe('usb:1209:0001:/dev/ttyUSB0');
    expect(thermometerId({ path: '/dev/ttyS0' })).toBe('serial:/dev/ttyS0');
  });

  test('is the same where its port is named by hand, by a symbolic link too', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'bowlside-named-'));
    onTestFinished(() => rmSync(folder, { recursive: true }));
    const path = join(folder, 'ttyUSB0');
    writeFileSync(path, '');
    symlinkSync('ttyUSB0', join(folder, 'ours'));
    const list = listing(usb('/dev/ttyUSB9', 'a'), usb(path, 'b'), builtIn('/dev/ttyS0'));
    for (const named of [path, join(folder, 'ours')])
      expect(await knownAs({ path: named }, list)).toBe('usb:1209:0001:b');
    for (const named of ['/dev/ttyS0', join(folder, 'gone')])
      expect(await knownAs({ path: named }, list)).toBe(`serial:${named}`);
    expect(await knownAs({ path }, noList)).toBe(`serial:${path}`);
    expect(await knownAs({ identity: remembered('/dev/gone', 'c') }, noList)).toBe('usb:1209:0001:c');
  });
});

test('sockets are read from the folder of links Linux keeps, and are none where there is no such folder', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'bowlside-sockets-'));
  mkdirSync(join(folder, 'by-path'));
  writeFileSync(join(folder, 'ttyUSB0'), '');
  symlinkSync('../ttyUSB0', join(folder, 'by-path', 'pci-usbv2-0:2'));
  symlinkSync('../ttyUSB0', join(folder, 'by-path', 'pci-usb-0:2'));
  symlinkSync('../gone', join(folder, 'by-path', 'pci-usb-0:3'));
  expect([...(await socketsByPath(join(folder, 'by-path')))]).toEqual([[join(folder, 'ttyUSB0'), 'pci-usb-0:2']]);
  expect([...(await socketsByPath(join(folder, 'nowhere')))]).toEqual([]);
  rmSync(folder, { recursive: true });
});
