/** What `bowlside ports` prints. Lists are given; ports listened to are real pseudo-terminals. */
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { afterEach, expect, onTestFinished, test } from 'vitest';
import { portsReport, type ReportOptions } from '../../../server/source/ports-report.ts';
import type { ListedPort, ListPorts } from '../../../server/source/serial-port.ts';
import { openPty, type Pty } from '../../support/pty.ts';

function usb(path: string, serialNumber: string | null = null): ListedPort {
  return { path, vendorId: '1209', productId: '0001', serialNumber, position: null, maker: null };
}

function builtIn(path: string): ListedPort {
  return { path, vendorId: null, productId: null, serialNumber: null, position: null, maker: null };
}

function listing(...ports: ListedPort[]): ListPorts {
  return () => Promise.resolve({ ok: true, ports });
}

const noList: ListPorts = () => Promise.resolve({ ok: false, why: 'spawn udevadm ENOENT' });

let device: Pty | null = null;
afterEach(() => device?.unplug());

/** Sure of what a thermometer says once it has said four lines. */
function sureOfFour(): ReturnType<ReportOptions['understanding']> {
  let taken = 0;
  return {
    take: () => void (taken += 1),
    get isSure() {
      return taken >= 4;
    },
    words: ({ text }) => `taken for ${text.trim()}`,
  };
}

async function report(options: Omit<ReportOptions, 'understanding'>): Promise<string[]> {
  const lines: string[] = [];
  for await (const line of portsReport({ listenMs: 50, understanding: sureOfFour, ...options })) lines.push(line);
  return lines;
}

test('the only port is listened to: its speed, what it says and what was understood, with nothing a terminal would obey', async () => {
  const speaking = openPty();
  device = speaking;
  const speech = setInterval(() => void speaking.write('31.2\x1b[2J \xc2\xb0C\r\n').catch(() => {}), 20);
  onTestFinished(() => clearInterval(speech));
  const lines = await report({
    listenMs: 30_000,
    baud: 9600,
    list: listing(builtIn('/dev/ttyS0'), usb(speaking.path, 'a7')),
  });
  expect(lines.slice(0, 3)).toEqual([
    `${speaking.path}  (USB 1209:0001, serial number a7)`,
    '  says        31.2·[2J °C',
    '  understood  taken for 31.2·[2J \xc2\xb0C',
  ]);
  expect(lines).toHaveLength(7);
});

test('what a device calls itself is nothing a terminal would obey either', async () => {
  const named = { ...usb('/dev/ttyUSB0', '\x1b]0;a7'), maker: 'Work\x1b[2Jshop' };
  const lines = await report({ list: listing(named, usb('/dev/ttyUSB1')) });
  expect(lines[0]).toBe('Work·[2Jshop, /dev/ttyUSB0  (USB 1209:0001, serial number ·]0;a7)');
});

test('the speed found is said, with the last three lines heard at it, and no longer is waited than until they are clear', async () => {
  const speaking = openPty();
  device = speaking;
  const speech = setInterval(() => void speaking.write('31.25\r\n').catch(() => {}), 20);
  onTestFinished(() => clearInterval(speech));
  const lines = await report({ listenMs: 30_000, list: listing(usb(speaking.path, 'a7')) });
  expect(lines.slice(1, 3)).toEqual(['  speed       9600 baud', '  says        31.25']);
  expect(lines).toHaveLength(8);
});

test('of several none is opened unless it is named: opening one can restart a machine', async () => {
  const list = listing(usb('/dev/none-1', 'a'), usb('/dev/none-2', 'b'));
  expect(await report({ list })).toEqual([
    '/dev/none-1  (USB 1209:0001, serial number a)',
    '/dev/none-2  (USB 1209:0001, serial number b)',
    'Opening a port can restart what is plugged in there. To hear one of them: npx bowlside ports PATH',
  ]);
  expect(await report({ list, paths: ['/dev/none-2'] })).toEqual([
    '/dev/none-1  (USB 1209:0001, serial number a)',
    '/dev/none-2  (USB 1209:0001, serial number b)',
    '  There is no device at /dev/none-2.',
    '  Plug the thermometer in; if it is plugged in, try another cable: some only charge.',
  ]);
  const remembered = { vendorId: '1209', productId: '0001', serialNumber: 'a', position: null, path: '/dev/none-1' };
  expect((await report({ list, remembered }))[1]).toBe('  There is no device at /dev/none-1.');
});

test('built-in and Bluetooth ports are shown where they are asked for', async () => {
  const list = listing(builtIn('/dev/ttyS0'), builtIn('/dev/rfcomm0'));
  const [none, next] = await report({ list });
  expect(none).toMatch(/^No USB serial port is plugged in\. .*another cable: some only charge\./);
  expect(next).toBe(
    'Any port can be named by hand: npx bowlside serve --port PATH. Built-in and Bluetooth ports: npx bowlside ports --all',
  );
  const all = await report({ list, all: true });
  expect(all).toContain('/dev/ttyS0  (built in, or Bluetooth)');
  expect(all).toContain('/dev/rfcomm0  (built in, or Bluetooth)');
  expect(await report({ list: listing(usb('/dev/none', 'a')), all: true })).toContain(
    'There are no built-in or Bluetooth ports.',
  );
});

test('a port that says nothing is said to be silent, with what to try', async () => {
  device = openPty();
  expect(await report({ list: listing(), paths: [device.path] })).toEqual([
    device.path,
    '  Nothing came in 0.05 s.',
    '  Is it switched on?',
    `  Some speak only when asked: npx bowlside serve --port ${device.path} --ask TEXT.`,
  ]);
});

test.runIf(process.platform === 'linux')(
  'a port that another program has is busy, and the program is named',
  async () => {
    const held = openPty();
    device = held;
    // As programs that ask first do: the lock that the library looks for.
    const holder = spawn('sh', ['-c', `exec 3<>${held.path}; flock -n 3 && echo held; read line`], {
      stdio: ['pipe', 'pipe', 'inherit'],
    });
    onTestFinished(() => void holder.kill());
    await once(holder.stdout!, 'data');
    const lines = await report({ list: listing(usb(held.path, 'a7')) });
    expect(lines.slice(1)).toEqual([
      `  Another program is using ${held.path}: sh (process ${holder.pid}).`,
      '  Close it.',
    ]);
  },
);

test('with no list at all says so, and that a port can be named by hand', async () => {
  expect(await report({ list: noList })).toEqual([
    'The list of ports cannot be read: the program udevadm is not on this computer. Install it (on Debian the package is udev).',
    'Any port can be named by hand: npx bowlside serve --port PATH.',
  ]);
  const other = () => Promise.resolve({ ok: false, why: 'Access denied' } as const);
  expect((await report({ list: other }))[0]).toBe('The list of ports cannot be read; the system says “Access denied”.');
});
