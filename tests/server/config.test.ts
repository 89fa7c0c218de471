import { homedir } from 'node:os';
import { join, resolve } from 'node:path';
import { describe, expect, test } from 'vitest';
import { defaultDataFolder, readConfig } from '../../server/config.ts';

const around = { env: { XDG_DATA_HOME: '/data' }, platform: 'linux' } as const;

describe('the words after serve', () => {
  test('may be none: whatever thermometer is there, the usual address, the usual folder', () => {
    expect(readConfig([], around)).toEqual({
      ok: true,
      config: {
        port: null,
        baud: null,
        query: null,
        simulate: false,
        profile: null,
        startAt: null,
        listen: { host: '127.0.0.1', port: 4330 },
        dataFolder: '/data/bowlside',
        probeLagS: null,
        bell: true,
        bellCommand: null,
      },
    });
  });

  test('may be all there are', () => {
    const words =
      '--port /dev/ttyUSB0 --baud 115200 --profile dark --start-at cool --listen 0.0.0.0:80 --data here --probe-lag 2.5';
    const bell = ['--bell-command', 'play "three bells.wav"'];
    const ask = ['--ask', 'MEAS:TEMP? (@101)', '--ask-end', 'crlf'];
    expect(readConfig([...words.split(' '), ...bell, ...ask], around)).toEqual({
      ok: true,
      config: {
        port: '/dev/ttyUSB0',
        baud: 115_200,
        query: { text: 'MEAS:TEMP? (@101)', ending: 'crlf' },
        simulate: false,
        profile: 'dark',
        startAt: 'cool',
        listen: { host: '0.0.0.0', port: 80 },
        dataFolder: resolve('here'),
        probeLagS: 2.5,
        bell: true,
        bellCommand: ['play', 'three bells.wav'],
      },
    });
  });

  test.each([
    ['127.0.0.1:8080', { host: '127.0.0.1', port: 8080 }],
    ['localhost:0', { host: 'localhost', port: 0 }],
    ['[::1]:4330', { host: '::1', port: 4330 }],
    ['8080', { host: '127.0.0.1', port: 8080 }],
  ])('--listen %s', (text, listen) => {
    expect(readConfig(['--listen', text], around)).toMatchObject({ ok: true, config: { listen } });
  });

  test.each([
    ['--port 8080', '--port 8080: that is a web address; use --listen'],
    ['--port 127.0.0.1:8080', '--port 127.0.0.1:8080: that is a web address; use --listen'],
    ['--port', '--port: a value is wanted after it'],
    ['--port=', '--port is empty'],
    ['extra', 'extra: nothing but options is wanted here'],
    ['--port x --baud -9600', '--baud -9600: a whole number from 50 to 4000000 is wanted'],
    ['--simulate --port /dev/ttyUSB0', '--simulate and --port'],
    ['--baud 9600', '--baud belongs to a --port'],
    ['--port x --baud fast', '--baud fast'],
    ['--port x --baud 9600.5', '--baud 9600.5'],
    ['--port x --baud 1', '--baud 1'],
    ['--ask READ?', '--ask belongs to a --port'],
    ['--port x --ask=', '--ask is empty'],
    ['--port x --ask \u00b0C?', '--ask \u00b0C?: 1 to 80 letters'],
    ['--port x --ask-end lf', '--ask-end belongs to an --ask'],
    ['--port x --ask READ? --ask-end dot', '--ask-end dot: lf, crlf, cr'],
    ['--listen 127.0.0.1', '--listen 127.0.0.1'],
    ['--listen http://127.0.0.1:4330', '--listen http'],
    [
      '--listen 127.0.0.1:70000',
      '--listen 127.0.0.1:70000: HOST:PORT is wanted, as in 127.0.0.1:4330, or a PORT alone, up to 65535',
    ],
    ['--listen ::1:4330', '--listen ::1:4330'],
    ['--probe-lag -3', '--probe-lag -3: seconds from 0 to 300 are wanted'],
    ['--probe-lag -.5', '--probe-lag -.5: seconds from 0 to 300 are wanted'],
    ['--probe-lag 301', '--probe-lag 301'],
    ['--probe-lag 1e2', '--probe-lag 1e2'],
    ['--bell-command=', '--bell-command is empty'],
    ['--bell-command "', '--bell-command "'],
    ['--no-bell --bell-command x', '--no-bell and --bell-command'],
    ['--start-at cool', '--start-at names a phase of a --profile'],
  ])('%s is refused in one line that names it', (words, start) => {
    const read = readConfig(words.split(' '), around);
    if (read.ok) throw new Error('it was taken');
    expect(read.complaint).toContain(start);
    expect(read.complaint).not.toContain('\n');
  });
});

describe('where data are kept', () => {
  test.each([
    ['linux', { XDG_DATA_HOME: '/data' }, '/data/bowlside'],
    ['linux', {}, join(homedir(), '.local', 'share', 'bowlside')],
    ['linux', { XDG_DATA_HOME: 'not/absolute' }, join(homedir(), '.local', 'share', 'bowlside')],
    ['darwin', {}, join(homedir(), 'Library', 'Application Support', 'bowlside')],
    ['win32', { LOCALAPPDATA: '/c' }, '/c/bowlside'],
  ] as const)('%s with %j', (platform, env, folder) => {
    expect(defaultDataFolder({ platform, env })).toBe(folder);
  });
});
