/** Errors as the operating systems put them, and as a person reads them. */
import { getSystemErrorMap } from 'node:util';
import { expect, test } from 'vitest';
import { explainTrouble } from '../../../server/source/port-trouble.ts';

test.each([
  // Linux and macOS, through the library
  ['Error: No such file or directory, cannot open /dev/x', 'not-there'],
  ['Error: No such device, cannot open /dev/x', 'not-there'],
  ['Error: No such device or address, cannot open /dev/x', 'not-there'],
  ['Error: Device not configured, cannot open /dev/x', 'not-there'],
  ['Error: Permission denied, cannot open /dev/x', 'not-allowed'],
  ['Error: Operation not permitted, cannot open /dev/x', 'not-allowed'],
  ['Error: Device or resource busy, cannot open /dev/x', 'busy'],
  ['Error: Resource busy, cannot open /dev/x', 'busy'],
  ['Error Resource temporarily unavailable Cannot lock port', 'busy'],
  ['Error: Inappropriate ioctl for device setting custom baud rate of 9600', 'not-a-serial-port'],
  ['Error: Is a directory, cannot open /dev', 'not-a-serial-port'],
  ['Error: Not a directory, cannot open /dev/null/x', 'not-a-serial-port'],
  ['Error baud rate of 12345 is not supported on your platform', 'bad-speed'],
  ['Error: Invalid argument setting custom baud rate of 1', 'bad-speed'],
  ['Error: Input/output error, cannot open /dev/x', 'not-answering'],
  ['Error: Too many open files, cannot open /dev/x', 'too-many-open'],
  ['Error: Too many open files in system, cannot open /dev/x', 'too-many-open'],
  // Windows, through the library
  ['Opening COM3: File not found', 'not-there'],
  ['Opening COM3: Access denied', 'busy'],
  ['Opening COM3: Unknown error code 31', 'not-answering'],
  ['Opening COM3: Operation aborted', 'not-answering'],
  ['Opening COM3: The parameter is incorrect', 'bad-speed'],
] as const)('“%s” is %s', (message, kind) => {
  expect(explainTrouble(message, '/dev/x').kind).toBe(kind);
});

test('every error number of this system gives a cause and an action, neither of them only a code', () => {
  for (const [code, words] of getSystemErrorMap().values()) {
    for (const message of [code, `Error: ${words}, cannot open /dev/x`]) {
      const { cause, action } = explainTrouble(message, '/dev/x');
      expect(cause).toMatch(/^\S+( \S+){3,}.*\.$/);
      expect(action).toMatch(/^[A-Z]\S*( \S+){3,}.*\.$/);
    }
  }
});

test('a port one may not open names both groups and the new login', () => {
  const { cause, action } = explainTrouble('Error: Permission denied, cannot open /dev/ttyACM0', '/dev/ttyACM0');
  expect(`${cause} ${action}`).toMatch(/\/dev\/ttyACM0.*dialout.*uucp.*log out and in/s);
});

test('what is not known is passed on in the system’s words', () => {
  expect(explainTrouble('Error: Broken in a new way', '/dev/x')).toMatchObject({
    kind: 'unknown',
    cause: '/dev/x could not be opened; the system says “Error: Broken in a new way”.',
  });
});
