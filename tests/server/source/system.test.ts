/** What the system tells of ports and of who has them: other readers, the group, devices without a driver, the list without a program for it. */
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, onTestFinished, test } from 'vitest';
import { driverless } from '../../../server/source/usb-devices.ts';
import { openedByLsof, openedOnLinux, othersAt } from '../../../server/source/others.ts';
import { groupOf } from '../../../server/source/port-group.ts';
import { listedPort } from '../../../server/source/serial-port.ts';
import { listFromSysfs } from '../../../server/source/sysfs-list.ts';
import { openPty } from '../../support/pty.ts';

function folder(): string {
  const made = mkdtempSync(join(tmpdir(), 'bowlside-others-'));
  onTestFinished(() => rmSync(made, { recursive: true }));
  return made;
}

describe('who else has a port open', () => {
  test.runIf(process.platform === 'linux')('another process that reads it is named, this one is not', async () => {
    const device = openPty();
    onTestFinished(() => device.unplug());
    expect(await othersAt(device.path)).toEqual([]);
    const reader = spawn('sh', ['-c', `exec 3<${device.path}; echo ready; read line`], {
      stdio: ['pipe', 'pipe', 'inherit'],
    });
    onTestFinished(() => void reader.kill());
    await once(reader.stdout!, 'data');
    expect(await othersAt(device.path)).toEqual([`sh (process ${reader.pid})`]);
    reader.stdin!.end();
    await once(reader, 'exit');
    expect(await othersAt(device.path)).toEqual([]);
  });

  test('a program that runs another one’s script is known by both; three are named at most', async () => {
    const proc = folder();
    const port = join(proc, 'port');
    writeFileSync(port, '');
    const commands = ['/usr/bin/python3\0/opt/watch.py\0-v\0', 'minicom\0-D\0', '', 'node\0--inspect\0', 'cat\0'];
    for (const [at, command] of commands.entries()) {
      mkdirSync(join(proc, String(70 + at), 'fd'), { recursive: true });
      writeFileSync(join(proc, String(70 + at), 'cmdline'), command);
      symlinkSync(port, join(proc, String(70 + at), 'fd', '3'));
    }
    mkdirSync(join(proc, '60'));
    expect(await openedOnLinux(port, proc)).toEqual([
      'python3 watch.py (process 70)',
      'minicom (process 71)',
      'a program (process 72)',
    ]);
  });

  test('another Bowlside is called so, however it was started', async () => {
    const proc = folder();
    const [port, cli] = [join(proc, 'port'), join(proc, 'cli.js')];
    for (const file of [port, cli, join(proc, 'other.js')]) writeFileSync(file, '');
    symlinkSync(cli, join(proc, 'bowlside'));
    const commands = ['cli.js\0serve', join(proc, 'bowlside'), 'other.js'];
    for (const [at, command] of commands.entries()) {
      mkdirSync(join(proc, String(70 + at), 'fd'), { recursive: true });
      writeFileSync(join(proc, String(70 + at), 'cmdline'), `node\0${command}\0`);
      symlinkSync(proc, join(proc, String(70 + at), 'cwd'));
      symlinkSync(port, join(proc, String(70 + at), 'fd', '3'));
    }
    expect(await openedOnLinux(port, proc, cli)).toEqual([
      'another Bowlside (process 70)',
      'another Bowlside (process 71)',
      'node other.js (process 72)',
    ]);
  });

  test('a port that is gone is open to nobody, and that is no error', async () => {
    expect(await othersAt('/dev/gone')).toEqual([]);
  });

  test('what `lsof` prints for programs is read, this process left out', () => {
    expect(openedByLsof('p17\ncbowlside\nf21\np4711\ncscreen\nf5\np4712\ncan editor\nf9\n', 17)).toEqual([
      'screen (process 4711)',
      'an editor (process 4712)',
    ]);
    expect(openedByLsof('', 17)).toEqual([]);
  });
});

test('the group that may open a port is the one of its file, and none where that is not known', async () => {
  const groups = join(folder(), 'group');
  writeFileSync(groups, `root:x:0:\nsome:x:${process.getgid!()}:anna\ndialout:x:20:\n`);
  const port = join(groups, '..', 'port');
  writeFileSync(port, '');
  expect(await groupOf(port, groups)).toMatch(/^(some|root)$/);
  expect(await groupOf('/dev/gone', groups)).toBe(null);
  expect(await groupOf(port, '/dev/gone')).toBe(null);
});

test('a USB device that could be a thermometer and has no driver is named; others are not', async () => {
  const devices = folder();
  const device = (name: string, files: Readonly<Record<string, string>>): void => {
    mkdirSync(join(devices, name));
    for (const [file, content] of Object.entries(files)) writeFileSync(join(devices, name, file), `${content}\n`);
  };
  const bridge = { idVendor: '1a86', idProduct: '7523', manufacturer: 'Workshop', product: 'Bridge' };
  device('1-1', bridge);
  device('1-1:1.0', { bInterfaceClass: 'ff' });
  device('1-2', { ...bridge, product: 'Bound' });
  device('1-2:1.0', { bInterfaceClass: 'ff' });
  symlinkSync(devices, join(devices, '1-2:1.0', 'driver'));
  device('1-3', { idVendor: '1209', idProduct: '0002', product: 'Keyboard' });
  device('1-3:1.0', { bInterfaceClass: '03' });
  device('1-4', { idVendor: '1209', idProduct: '0001' });
  device('1-4:1.0', { bInterfaceClass: '02' });
  device('1-4:1.1', { bInterfaceClass: '0a' });
  expect(await driverless(devices)).toEqual(['Workshop Bridge (1a86:7523)', 'unnamed (1209:0001)']);
  expect(await driverless(join(devices, 'nowhere'))).toEqual([]);
});

test('ports are listed from the kernel’s files where there is no program for it', async () => {
  const sys = folder();
  const file = (path: string, content: string): void => {
    mkdirSync(join(sys, path, '..'), { recursive: true });
    writeFileSync(join(sys, path), `${content}\n`);
  };
  const tty = (name: string, device: string | null): void => {
    mkdirSync(join(sys, 'tty', name), { recursive: true });
    if (device !== null) symlinkSync(join(sys, device), join(sys, 'tty', name, 'device'));
  };
  file('bus/1-1/idVendor', '1a86');
  file('bus/1-1/idProduct', '7523');
  file('bus/1-1/1-1:1.0/ttyUSB0/port_number', '0');
  file('bus/1-2/idVendor', '1209');
  file('bus/1-2/idProduct', '0001');
  file('bus/1-2/serial', 'a7');
  file('bus/1-2/manufacturer', 'Workshop');
  file('bus/1-2/1-2:1.2/interface', 'x');
  file('platform/serial8250/driver', 'x');
  tty('ttyUSB0', 'bus/1-1/1-1:1.0/ttyUSB0');
  tty('ttyACM0', 'bus/1-2/1-2:1.2');
  tty('ttyS0', 'platform/serial8250');
  tty('console', null);
  const listed = (await listFromSysfs(join(sys, 'tty'))).map((port) => listedPort(port));
  const none = { vendorId: null, productId: null, serialNumber: null, position: null, maker: null };
  expect(listed).toEqual([
    {
      path: '/dev/ttyACM0',
      vendorId: '1209',
      productId: '0001',
      serialNumber: 'a7',
      position: '1-2:1.2',
      maker: 'Workshop',
    },
    { path: '/dev/ttyS0', ...none },
    { ...none, path: '/dev/ttyUSB0', vendorId: '1a86', productId: '7523', position: '1-1:1.0' },
  ]);
  await expect(listFromSysfs(join(sys, 'nowhere'))).rejects.toThrow();
});
