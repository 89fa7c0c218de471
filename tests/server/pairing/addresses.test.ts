/** What a code is carried to a telephone with: the address that the machine really has, and a picture that a reader by others reads. */
import { createRequire } from 'node:module';
import type { NetworkInterfaceInfo } from 'node:os';
import { describe, expect, test } from 'vitest';
import { invitationLink, reachedAt } from '../../../server/pairing/addresses.ts';
import { invited } from '../../../server/pairing/invited.ts';
import { pictureOf } from '../../../server/pairing/picture.ts';

/** Its types and what it really gives differ in how it is taken in. */
const { default: jsQR } = createRequire(import.meta.url)('jsqr') as typeof import('jsqr');

const entry = (address: string, internal = false): NetworkInterfaceInfo =>
  ({ address, internal, family: address.includes(':') ? 'IPv6' : 'IPv4' }) as NetworkInterfaceInfo;

/** A laptop with cable and radio. */
const INTERFACES = {
  lo: [entry('127.0.0.1', true), entry('::1', true)],
  eth0: [entry('192.168.7.20'), entry('fe80::1'), entry('fd00::20')],
  wlan0: [entry('10.0.0.5')],
};

describe('the address', () => {
  test.each([
    ['0.0.0.0', null, ['http://192.168.7.20:4330', 'http://10.0.0.5:4330']],
    ['0.0.0.0', '10.0.0.5', ['http://10.0.0.5:4330', 'http://192.168.7.20:4330']],
    ['0.0.0.0', '127.0.0.1', ['http://192.168.7.20:4330', 'http://10.0.0.5:4330']],
    ['::', null, ['http://192.168.7.20:4330', 'http://10.0.0.5:4330', 'http://[fd00::20]:4330']],
    ['192.168.7.20', '10.0.0.5', ['http://192.168.7.20:4330']],
    ['kitchen.example', null, ['http://kitchen.example:4330']],
  ])('of a server at %s, asked at %s', (host, cameTo, addresses) => {
    expect(reachedAt({ host, port: 4330 }, cameTo, INTERFACES)).toEqual(addresses);
  });

  test('of a machine without a network is none', () => {
    expect(reachedAt({ host: '0.0.0.0', port: 4330 }, null, { lo: INTERFACES.lo })).toEqual([]);
  });
});

describe('the picture', () => {
  test.each(reachedAt({ host: '::', port: 4330 }, null, INTERFACES))(
    'of %s is read by another library (jsqr)',
    (address) => {
      const link = invitationLink(address, '7K3M-9QTB');
      expect(read(pictureOf(link))).toBe(link);
    },
  );
});

describe('the terminal', () => {
  const guests = { invite: () => ({ id: 'i', code: '7K3M-9QTB', role: 'control', untilWall: '' }) as const };

  test('says nothing where only this machine can come', () => {
    for (const host of ['127.0.0.1', 'localhost', '::1', '127.0.0.7'])
      expect(invited(guests, { host, port: 4330 })).toEqual([]);
  });

  test('shows link and picture where a network can', () => {
    const lines = invited(guests, { host: '192.168.7.20', port: 4330 });
    expect(lines[0]).toBe(
      'For a screen that may take part, within 10 minutes: http://192.168.7.20:4330/pair?code=7K3M-9QTB',
    );
    expect(lines.filter((line) => /[█▀▄]/.test(line)).length).toBeGreaterThan(15);
    expect(lines.at(-1)).toContain('Other screens');
  });
});

/** Painted four points to a module, and read. */
function read({ size, path }: ReturnType<typeof pictureOf>): string | undefined {
  const scale = 4;
  const points = new Uint8ClampedArray((size * scale) ** 2 * 4).fill(255);
  for (const [, x, y] of path.matchAll(/M(\d+) (\d+)h1v1h-1z/g))
    for (let row = 0; row < scale; row++)
      for (let column = 0; column < scale; column++) {
        const at = ((Number(y) * scale + row) * size * scale + Number(x) * scale + column) * 4;
        points.fill(0, at, at + 3);
      }
  return jsQR(points, size * scale, size * scale)?.data;
}
