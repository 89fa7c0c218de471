import { execFile } from 'node:child_process';
import { readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { describe, expect, test } from 'vitest';
import { bowlside } from '../../server/cli.ts';
import { readLine } from '../../server/core/reading/line.ts';
import { understood } from '../../server/commands/understood.ts';
import { program } from '../support/program.ts';
import { freshFolder } from '../support/store.ts';

async function says(...argv: string[]): Promise<{ exit: number; out: string[]; err: string[] }> {
  const out: string[] = [];
  const err: string[] = [];
  const exit = await bowlside(argv, {
    out: (line) => void out.push(line),
    err: (line) => void err.push(line),
    env: {},
    platform: 'linux',
    stopped: () => Promise.resolve(),
  });
  return { exit, out, err };
}

describe('words that are wrong end with 2 and one line', () => {
  test.each([
    [[], 'bowlside: serve, replay, ports or lag'],
    [['brew'], 'brew'],
    [['serve', '--port', '8080'], 'that is a web address; use --listen'],
    [
      ['serve', '--port', '/dev/a', '--port', '/dev/b'],
      '--port /dev/b: it may be given once only, and /dev/a stands before it',
    ],
    [['lag', '--port', '/dev/a', '--port=/dev/b'], '--port /dev/b: it may be given once only'],
    [['replay', 'a.csv', '--profile', 'dark', '--profile', 'milk'], '--profile milk: it may be given once only'],
    [['ports', '/dev/none', '--baud', '9600', '--baud', '1200'], '--baud 1200: it may be given once only'],
    [['serve', '--listen', 'everywhere'], '--listen everywhere'],
    [['serve', '--wat'], '--wat'],
    [['serve', '--profile', 'ruby'], '--profile ruby'],
    [['serve', '--profile', './no-such.json'], 'there is no such file'],
    [['serve', '--profile', 'dark', '--start-at', 'anneal'], 'anneal'],
    [['serve', '--simulate', '--start-at', 'anneal'], 'anneal'],
    [['ports', '--wat'], '--wat'],
    [['ports', '--baud', '9600'], '--baud belongs to a PATH'],
    [['ports', '/dev/none', '--baud', 'fast'], '--baud fast'],
    [['replay'], 'replay'],
    [['lag', '--baud', '19200'], '--baud belongs to a --port'],
    [['lag', '/no/such.csv'], '/no/such.csv: there is no such file'],
    [['replay', '/no/such.csv', '--profile', 'dark'], '/no/such.csv'],
    [['replay', '/no/such.csv'], '/no/such.csv: there is no such file'],
  ])('bowlside %j', async (argv, part) => {
    const { exit, out, err } = await says(...argv);
    expect({ exit, out, lines: err.length }).toEqual({ exit: 2, out: [], lines: 1 });
    expect(err[0]).toContain(part);
  });
});

test('a profile with an error keeps the server from starting, and the complaint names file, place, value and rule', async () => {
  const file = join(freshFolder(), 'mine.json');
  const phases = [{ id: 'melt', heading: 'up', bandC: [50, 45] }];
  writeFileSync(file, JSON.stringify({ id: 'mine', title: 'Mine', coating: 'dark', source: 'the bag', phases }));
  const { exit, err } = await says('serve', '--profile', file);
  expect(exit).toBe(2);
  expect(err).toEqual([expect.stringMatching(/^mine\.json: phases\.melt\.bandC: .+\[50,45\]/)]);
});

test.each([[['--help']], [['-h']], [['help']], [['brew', '--help']]])('help of all commands: %j', async (argv) => {
  const { exit, out, err } = await says(...argv);
  expect({ exit, err }).toEqual({ exit: 0, err: [] });
  for (const command of ['serve', 'replay', 'ports', 'lag'])
    expect(out.join('\n')).toContain(`npx bowlside ${command} `);
});

test('--version is that of the package, and stands in the help of all commands', async () => {
  const { version } = JSON.parse(readFileSync(join(import.meta.dirname, '../../package.json'), 'utf8')) as {
    version: string;
  };
  expect(await says('--version')).toEqual({ exit: 0, out: [version], err: [] });
  expect((await says('--help')).out.join('\n')).toContain('npx bowlside --version ');
});

test.each(['serve', 'replay', 'ports', 'lag'])('help of one command alone: %s', async (command) => {
  const { exit, out } = await says(command, '--help');
  const told = new Set([...out.join('\n').matchAll(/npx bowlside (\w+)/g)].map(([, name]) => name));
  expect({ exit, told: [...told] }).toEqual({ exit: 0, told: [command] });
});

test('help of serve says that a port alone is enough to listen at', async () => {
  expect((await says('serve', '--help')).out.join('\n')).toMatch(/^ {4}--listen HOST:PORT .*a PORT alone/m);
});

test('help of a replay says of each option what it does', async () => {
  const { out } = await says('replay', '--help');
  for (const option of ['profile', 'json', 'estimates', 'probe-lag', 'timing', 'check'])
    expect(out.join('\n')).toMatch(new RegExp(`^ {4}--${option}\\b.* {3}\\w.{20}`, 'm'));
});

test('serve prints how it stands and the one address to open, and ends with 0 when it is stopped', async () => {
  const { exit, out, err } = await says('serve', '--simulate', '--listen', '127.0.0.1:0', '--data', freshFolder());
  expect({ exit, err }).toEqual({ exit: 0, err: [] });
  expect(out.at(-1)).toMatch(/http:\/\/127\.0\.0\.1:\d+/);
  expect(out.join('\n')).toContain('simulated');
});

test('the built program can be run as it is', async () => {
  const { stdout } = await promisify(execFile)(process.execPath, [program(), '--help']);
  expect(stdout).toContain('bowlside ports');
});

test.skipIf(process.platform === 'win32')('it can be run by its name, too, as npx does after every build', () => {
  expect(statSync(program()).mode & 0o111).toBe(0o111);
});

describe('what was understood of a line', () => {
  test.each([
    ['31.40', '31.40 °C'],
    ['chocolate: 31.4', 'chocolate 31.40 °C'],
    ['hello', 'nothing: there is no number in it'],
    ['', 'nothing: an empty line'],
  ])('%j: %s', (line, words) => {
    expect(understood(line)).toBe(words);
  });

  test('every reason a line can be refused for has words of its own', () => {
    for (const line of ['', 'hello', '{"a":', 'ERR 3', 'x'.repeat(600), '31,4,31,5']) {
      const read = readLine(line);
      if (read.ok) throw new Error(`${line} was understood`);
      expect(understood(line)).not.toBe(`nothing: ${read.reason}`);
    }
  });
});
