/** Words after a command that are none of its options, or options with no value of theirs: told with what to type instead. */
import { expect, test } from 'vitest';
import { readTyped } from '../../server/typed.ts';

const OPTIONS = {
  port: { type: 'string' },
  'probe-lag': { type: 'string' },
  data: { type: 'string' },
  simulate: { type: 'boolean' },
} as const;

const read = (...argv: string[]) => readTyped('serve', argv, OPTIONS);

test('options and other words are told apart', () => {
  expect(read('one', '--port', '/dev/a', '--simulate', '--data=-here', '--', '--two')).toEqual({
    ok: true,
    values: { port: '/dev/a', simulate: true, data: '-here' },
    words: ['one', '--two'],
  });
});

test.each([
  ['--prot', '--port'],
  ['--por', '--port'],
  ['--portt', '--port'],
  ['--pert', '--port'],
  ['--port ', '--port'],
  ['-port', '--port'],
  ['--Simulate', '--simulate'],
  ['--probelag', '--probe-lag'],
])('%s is a slip of the hand for %s', (typed, meant) => {
  expect(read(typed)).toEqual({ ok: false, complaint: `there is no option ${typed}; is ${meant} meant?` });
});

test.each(['--wat', '--sport2', '--tropes', '--opprt', '-x', '--__proto__', '--toString'])(
  '%s is like none',
  (typed) => {
    expect(read(typed)).toEqual({
      ok: false,
      complaint: `there is no option ${typed}; npx bowlside serve --help lists those there are`,
    });
  },
);

test('of an unknown option with a value the option is told', () => {
  expect(read('--prot=/dev/a=b')).toMatchObject({ complaint: 'there is no option --prot; is --port meant?' });
});

test.each([
  [['--port'], '--port: a value is wanted after it'],
  [['--simulate=yes'], '--simulate=yes: it takes no value'],
  [['--data', '-here'], '--data -here: a value is wanted; one that begins with - is written --data=-here'],
  [
    ['--port', '--simulate'],
    '--port --simulate: a value is wanted; one that begins with - is written --port=--simulate',
  ],
  [['--data', 'a', '--data', 'b'], '--data b: it may be given once only, and a stands before it'],
])('%j', (argv, complaint) => {
  expect(read(...argv)).toEqual({ ok: false, complaint });
});

test('a negative number is a value, whose bounds others know', () => {
  expect(read('--probe-lag', '-3')).toEqual({ ok: true, values: { 'probe-lag': '-3' }, words: [] });
});
