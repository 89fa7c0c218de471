/**
 * Errors as the operating systems put them, and as a person reads them. The texts are those of the library's binding for each system: on
 * Linux and macOS the system's phrase (strerror of glibc and of Apple's libc) in a frame of its own, on Windows its own phrase or a number
 * (Microsoft, “System Error Codes”).
 */
import { getSystemErrorMap } from 'node:util';
import { describe, expect, test } from 'vitest';
import { explainTrouble, noPortTrouble, notLoaded, type TroubleKind } from '../../../server/source/port-trouble.ts';

/** Phrase on Linux, phrase on macOS where it is another one, and what it comes to. Those that open, lock, ioctl, read and write may give. */
const PHRASES: readonly (readonly [linux: string, darwin: string, kind: TroubleKind])[] = [
  ['No such file or directory', 'No such file or directory', 'not-there'],
  ['No such device', 'Operation not supported by device', 'not-there'],
  ['No such device or address', 'Device not configured', 'not-there'],
  ['Too many levels of symbolic links', 'Too many levels of symbolic links', 'not-there'],
  ['File name too long', 'File name too long', 'not-there'],
  ['Permission denied', 'Permission denied', 'not-allowed'],
  ['Operation not permitted', 'Operation not permitted', 'not-allowed'],
  ['Read-only file system', 'Read-only file system', 'not-allowed'],
  ['Device or resource busy', 'Resource busy', 'busy'],
  ['Text file busy', 'Text file busy', 'busy'],
  ['No locks available', 'No locks available', 'busy'],
  ['Resource temporarily unavailable', 'Resource temporarily unavailable', 'busy'],
  ['Inappropriate ioctl for device', 'Inappropriate ioctl for device', 'not-a-serial-port'],
  ['Is a directory', 'Is a directory', 'not-a-serial-port'],
  ['Not a directory', 'Not a directory', 'not-a-serial-port'],
  ['Operation not supported', 'Operation not supported on socket', 'not-a-serial-port'],
  ['Invalid argument', 'Invalid argument', 'bad-speed'],
  ['Value too large for defined data type', 'Value too large to be stored in data type', 'bad-speed'],
  ['Input/output error', 'Input/output error', 'not-answering'],
  ['Protocol error', 'Protocol error', 'not-answering'],
  ['Remote I/O error', 'Input/output error', 'not-answering'],
  ['Broken pipe', 'Broken pipe', 'not-answering'],
  ['Cannot send after transport endpoint shutdown', "Can't send after socket shutdown", 'not-answering'],
  ['Connection timed out', 'Operation timed out', 'not-answering'],
  ['Interrupted system call', 'Interrupted system call', 'not-answering'],
  ['Bad file descriptor', 'Bad file descriptor', 'not-answering'],
  ['Operation canceled', 'Operation canceled', 'not-answering'],
  ['Too many open files', 'Too many open files', 'too-many-open'],
  ['Too many open files in system', 'Too many open files in system', 'too-many-open'],
  ['Cannot allocate memory', 'Cannot allocate memory', 'too-many-open'],
  ['No space left on device', 'No space left on device', 'too-many-open'],
];

/** The frames in which the library's binding for Linux and macOS puts a phrase. */
const FRAMES: readonly ((phrase: string) => string)[] = [
  (phrase) => `Error: ${phrase}, cannot open /dev/x`,
  (phrase) => `Error ${phrase} Cannot open /dev/x`,
  (phrase) => `Error: ${phrase} setting custom baud rate of 9600`,
  (phrase) => `Error: ${phrase} || while retrieving termios2 info`,
  (phrase) => `Error: ${phrase} calling ioctl(.., IOSSIOSPEED, 9600 )`,
  (phrase) => `Error: ${phrase}, cannot flush`,
];

/** Windows, through the library: its own phrases, and the numbers that it has none for. */
const WINDOWS: readonly (readonly [string, TroubleKind])[] = [
  ['File not found', 'not-there'],
  ['Access denied', 'busy'],
  ['Invalid handle', 'not-answering'],
  ['Operation aborted', 'not-answering'],
  ['The parameter is incorrect', 'bad-speed'],
  ['Unknown error code 1', 'not-a-serial-port'],
  ['Unknown error code 3', 'not-there'],
  ['Unknown error code 4', 'too-many-open'],
  ['Unknown error code 8', 'too-many-open'],
  ['Unknown error code 14', 'too-many-open'],
  ['Unknown error code 15', 'not-there'],
  ['Unknown error code 20', 'not-there'],
  ['Unknown error code 21', 'not-answering'],
  ['Unknown error code 22', 'not-answering'],
  ['Unknown error code 31', 'not-answering'],
  ['Unknown error code 32', 'busy'],
  ['Unknown error code 33', 'busy'],
  ['Unknown error code 50', 'not-a-serial-port'],
  ['Unknown error code 55', 'not-there'],
  ['Unknown error code 121', 'not-answering'],
  ['Unknown error code 123', 'not-there'],
  ['Unknown error code 161', 'not-there'],
  ['Unknown error code 170', 'busy'],
  ['Unknown error code 433', 'not-there'],
  ['Unknown error code 1117', 'not-answering'],
  ['Unknown error code 1167', 'not-there'],
  ['Unknown error code 1168', 'not-there'],
  ['Unknown error code 1450', 'too-many-open'],
  ['Unknown error code 1460', 'not-answering'],
  ['Unknown error code 2404', 'not-answering'],
];

const SYSTEMS = ['linux', 'darwin', 'win32'] as const;

describe.each(['linux', 'darwin'] as const)('on %s', (platform) => {
  test.each(PHRASES)('“%s”', (linux, darwin, kind) => {
    for (const frame of FRAMES) {
      const message = frame(platform === 'linux' ? linux : darwin);
      expect({ message, kind: explainTrouble(message, '/dev/x', { platform }).kind }).toEqual({ message, kind });
    }
  });

  test('a lock that another holds, and a speed that it cannot run at', () => {
    const kindOf = (message: string): TroubleKind => explainTrouble(message, '/dev/x', { platform }).kind;
    expect(kindOf('Error Resource temporarily unavailable Cannot lock port')).toBe('busy');
    expect(kindOf('Error baud rate of 12345 is not supported on your platform')).toBe('bad-speed');
  });
});

test.each(WINDOWS)('on Windows “%s” is %s', (phrase, kind) => {
  for (const frame of ['Opening COM3', 'Open (SetCommState)', 'Reading from COM port (ReadIOCompletion)'])
    expect(explainTrouble(`${frame}: ${phrase}`, 'COM3', { platform: 'win32' }).kind).toBe(kind);
});

describe.each(SYSTEMS)('whatever the error on %s', (platform) => {
  test('there are a cause and one action, neither of them only a code', () => {
    const codes = [...getSystemErrorMap().values()].flatMap(([code, words]) => [
      code,
      `Error: ${words}, cannot open /dev/x`,
    ]);
    const numbers = Array.from({ length: 200 }, (_, number) => `Opening COM3: Unknown error code ${number}`);
    for (const message of [...codes, ...numbers]) {
      const { cause, action } = explainTrouble(message, '/dev/x', { platform });
      expect(cause).toMatch(/^\S+( \S+){3,}.*\.$/);
      expect(action).toMatch(/^[A-Z]\S*( \S+){2,}.*\.$/);
    }
  });
});

test('a port one may not open names its group, else both usual ones, and the new login', () => {
  const words = (group: string | null): string => {
    const message = 'Error: Permission denied, cannot open /dev/ttyACM0';
    const { cause, action } = explainTrouble(message, '/dev/ttyACM0', { platform: 'linux', group });
    return `${cause} ${action}`;
  };
  expect(words(null)).toMatch(/\/dev\/ttyACM0.*dialout.*uucp.*log out and in/s);
  expect(words('root')).toMatch(/dialout.*uucp.*log out and in/s);
  expect(words('uucp')).toMatch(/usermod -aG uucp \$USER.*log out and in/s);
});

test('a busy port names who has it, where that is known', () => {
  const message = 'Error Resource temporarily unavailable Cannot lock port';
  const others = ['minicom (process 4711)'];
  expect(explainTrouble(message, '/dev/x', { platform: 'linux', others })).toEqual({
    kind: 'busy',
    cause: 'Another program is using /dev/x: minicom (process 4711).',
    action: 'Close it.',
  });
});

test('what is not known is passed on in the system’s words', () => {
  expect(explainTrouble('Error: Broken in a new way', '/dev/x', { platform: 'linux' })).toMatchObject({
    kind: 'unknown',
    cause: '/dev/x could not be opened; the system says “Error: Broken in a new way”.',
  });
});

test('a library that cannot be loaded is told as that, whatever the loader’s words look like', () => {
  const loader = 'libudev.so.1: cannot open shared object file: No such file or directory.\nRequire stack:\n- cli.js';
  expect(explainTrouble(notLoaded(loader), '/dev/x', { platform: 'linux' })).toEqual({
    kind: 'not-loaded',
    cause:
      'Bowlside cannot load what it reads ports with: libudev.so.1: cannot open shared object file: No such file or directory.',
    action: 'Start it again; if that is no help, run npm ci first.',
  });
});

describe('no port at all', () => {
  test.each(SYSTEMS)(
    'on %s: the cable that only charges, and where to look for a device without a driver',
    (platform) => {
      const { kind, cause, action } = noPortTrouble(platform, []);
      expect({ kind, cause }).toEqual({ kind: 'not-there', cause: 'No USB serial port is plugged in.' });
      expect(action).toMatch(/try another cable: some only charge\./);
      expect(/driver/.test(action)).toBe(platform !== 'linux');
    },
  );

  test('a device without a driver is named', () => {
    const { kind, cause, action } = noPortTrouble('linux', ['Workshop Bridge (1a86:7523)']);
    expect(kind).toBe('no-driver');
    expect(`${cause} ${action}`).toMatch(/Workshop Bridge \(1a86:7523\).*install the driver/s);
  });
});
