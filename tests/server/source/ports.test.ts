/** Which port is the thermometer, and what `bowlside ports` says. Lists are given; ports listened to are real pseudo-terminals. */
import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { afterEach, describe, expect, onTestFinished, test } from 'vitest';
import {
  findPort,
  knownAs,
  locatePort,
  portsReport,
  socketsByPath,
  thermometerId,
  type PortIdentity,
} from '../../../server/source/ports.ts';
import { callOutPath, listPorts, type ListedPort, type ListPorts } from '../../../server/source/serial-port.ts';
import { openPty, type Pty } from '../../support/pty.ts';

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
    expect(await findPort(null, listing(builtIn('/dev/ttyS0')))).toEqual({
      kind: 'none',
      why: 'No USB serial port is plugged in.',
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

  test('is a question where both doubles stand in other sockets', async () => {
    const list = listing(usb('/dev/ttyUSB0', null, 'left'), usb('/dev/ttyUSB1', null, 'right'));
    expect(await locatePort(remembered('/dev/ttyUSB0', null, 'middle'), list)).toMatchObject({ kind: 'several' });
  });

  test('alone of its kind is found in any socket', async () => {
    const list = listing(usb('/dev/ttyUSB4', null, 'left'));
    expect(await locatePort(remembered('/dev/ttyUSB0', null, 'right'), list)).toMatchObject({ path: '/dev/ttyUSB4' });
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

describe('the report', () => {
  let device: Pty | null = null;
  afterEach(() => device?.unplug());

  const understand = (line: string): string => `taken for ${line.trim()}`;

  test('shows what is plugged in, and opens nothing unless asked to listen', async () => {
    const report = await portsReport({
      listenMs: null,
      understand,
      list: listing(builtIn('/dev/ttyS0'), usb('/dev/none', 'a7')),
    });
    expect(report).toEqual(['/dev/none  (USB 1209:0001, serial number a7)']);
  });

  test('says what each port says and what was understood, with nothing a terminal would obey', async () => {
    const speaking = openPty();
    device = speaking;
    const speech = setInterval(() => void speaking.write('31.2\x1b[2J \xc2\xb0C\r\n').catch(() => {}), 20);
    const report = await portsReport({ listenMs: 600, understand, list: listing(usb(speaking.path, 'a7')) });
    clearInterval(speech);
    expect(report[0]).toContain(speaking.path);
    expect(report.slice(1, 3)).toEqual(['  says        31.2·[2J \xb0C', '  understood  taken for 31.2·[2J \xc2\xb0C']);
    expect(report.length).toBe(7);
  });

  test('says that nothing came, and what to try', async () => {
    device = openPty();
    const report = await portsReport({ listenMs: 50, baud: 4800, understand, list: listing(), paths: [device.path] });
    expect(report).toEqual([
      'No USB serial port is plugged in.',
      device.path,
      '  Nothing came in 0.05 s at 4800 baud. Is it switched on? Try another --baud.',
    ]);
  });

  test('says why a port can’t be opened, and what to do', async () => {
    const report = await portsReport({ listenMs: 50, understand, list: listing(usb('/dev/nowhere')) });
    expect(report.join('\n')).toMatch(/There is no device at \/dev\/nowhere\.\n {2}Plug the thermometer in/);
  });

  test('with no list at all says so, and that a port can be named by hand', async () => {
    const report = await portsReport({ listenMs: 50, understand, list: noList });
    expect(report).toEqual([
      'The list of ports cannot be read: the program udevadm is not on this computer. Install it (on Debian the package is udev).',
      'Any port can be named by hand: bowlside serve --port PATH.',
    ]);
    const other = () => Promise.resolve({ ok: false, why: 'Access denied' } as const);
    expect((await portsReport({ listenMs: 50, understand, list: other }))[0]).toBe(
      'The list of ports cannot be read; the system says “Access denied”.',
    );
  });
});
