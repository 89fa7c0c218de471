/** The page's files on their way to a browser: packed when it was built, sent so to whoever unpacks them, and as they are to all others. */
import { mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { request, type IncomingMessage } from 'node:http';
import { join } from 'node:path';
import { buffer } from 'node:stream/consumers';
import { gunzipSync, gzipSync } from 'node:zlib';
import { expect, onTestFinished, test } from 'vitest';
import { openHttp } from '../../server/http.ts';
import { doorkeeper } from '../support/doorkeeper.ts';
import { WEB_FOLDER } from '../support/scripted-bowl.ts';
import { freshFolder } from '../support/store.ts';

const BOWL = '/assets/bowl-1a2b3c.js';
const PAGE = '<!doctype html><title>Bowlside</title>';
const SCRIPT = 'export const bowl = 1;'.repeat(100);
const BARE = 'export {};';

/** A page of which all was packed but one part. */
async function opened(): Promise<string> {
  const webFolder = join(freshFolder(), 'web');
  mkdirSync(join(webFolder, 'assets'), { recursive: true });
  const keep = (name: string, bytes: string | Uint8Array): void => writeFileSync(join(webFolder, name), bytes);
  for (const [name, text] of [
    ['index.html', PAGE],
    ['assets/bowl-1a2b3c.js', SCRIPT],
  ] as const) {
    keep(name, text);
    keep(`${name}.gz`, gzipSync(text));
  }
  keep('assets/bare-1a2b3c.js', BARE);
  for (const name of ['../secret', '../secret.gz']) keep(name, 'secret');
  const listen = { host: '127.0.0.1', port: 0 };
  const answer = await openHttp({ listen, webFolder, routes: async () => [], ...doorkeeper() });
  if (!answer.ok) throw new Error(answer.message);
  onTestFinished(() => answer.http.close());
  return answer.http.address;
}

interface Got {
  readonly status: number | undefined;
  readonly headers: IncomingMessage['headers'];
  /** As it came over the line. */
  readonly body: Buffer;
}

/** `path`: as it goes over the line; `takes`: what is said of packing; null: nothing. */
function asked(at: string, path: string, takes: string | null, headers: Record<string, string> = {}, method = 'GET') {
  const { hostname, port } = new URL(at);
  return new Promise<Got>((resolve, reject) => {
    const said = { ...(takes === null ? {} : { 'accept-encoding': takes }), ...headers };
    const sent = request({ hostname, port, path, method, headers: said }, (response) => {
      const { statusCode: status, headers: told } = response;
      buffer(response).then((body) => resolve({ status, headers: told, body }), reject);
    });
    sent.on('error', reject);
    sent.end();
  });
}

test.each([
  ['/', PAGE, 'text/html; charset=utf-8', 'no-cache'],
  ['/index.html?again', PAGE, 'text/html; charset=utf-8', 'no-cache'],
  [BOWL, SCRIPT, 'text/javascript; charset=utf-8', 'max-age=31536000, immutable'],
])('%s goes out packed, as what it is, to a browser that unpacks it', async (path, text, type, kept) => {
  const got = await asked(await opened(), path, 'gzip, deflate, br, zstd');
  expect(got).toMatchObject({
    status: 200,
    headers: {
      'content-encoding': 'gzip',
      'content-type': type,
      'content-length': String(got.body.length),
      vary: 'Accept-Encoding',
      'cache-control': kept,
      'x-content-type-options': 'nosniff',
    },
  });
  expect(gunzipSync(got.body).toString()).toBe(text);
  expect(got.headers['content-security-policy']).toContain("default-src 'self'");
});

test.each([null, '', 'identity', 'br', 'gzip;q=0', 'identity, gzip;q=0.5'])(
  'it goes out as it is where the browser says of packing: %s',
  async (takes) => {
    const got = await asked(await opened(), BOWL, takes);
    expect(got).toMatchObject({
      status: 200,
      headers: { 'content-type': 'text/javascript; charset=utf-8', vary: 'Accept-Encoding' },
    });
    expect(got.headers['content-encoding']).toBeUndefined();
    expect(got.body.toString()).toBe(SCRIPT);
  },
);

test('so does a file that was not packed, to whoever asks', async () => {
  const got = await asked(await opened(), '/assets/bare-1a2b3c.js', 'gzip');
  expect(got.headers).toMatchObject({ 'content-type': 'text/javascript; charset=utf-8' });
  expect(got.headers['content-encoding']).toBeUndefined();
  expect(got.body.toString()).toBe(BARE);
});

test('a browser that has a file, packed or not, is told that it is the same, and never takes one for the other', async () => {
  const at = await opened();
  const [packed, plain] = await Promise.all(['gzip', 'identity'].map((takes) => asked(at, BOWL, takes)));
  const [packedTag, plainTag] = [packed!, plain!].map(({ headers }) => headers.etag ?? '');
  expect(packedTag).not.toBe(plainTag);
  const again = (takes: string, tag: string) => asked(at, BOWL, takes, { 'if-none-match': tag });
  const same = await again('gzip', packedTag!);
  expect(same).toMatchObject({ status: 304, headers: { etag: packedTag, vary: 'Accept-Encoding' } });
  expect(same.body).toHaveLength(0);
  expect((await again('identity', plainTag!)).status).toBe(304);
  expect((await again('gzip', plainTag!)).status).toBe(200);
  expect((await again('identity', packedTag!)).status).toBe(200);
});

test('HEAD says what GET would, and brings nothing', async () => {
  const at = await opened();
  const [head, got] = [await asked(at, BOWL, 'gzip', {}, 'HEAD'), await asked(at, BOWL, 'gzip')];
  const { date: _, ...told } = got.headers;
  expect(head).toMatchObject({ status: 200, headers: told });
  expect(head.body).toHaveLength(0);
});

test.each([
  ['If-Match', '"another"', 412],
  ['Range', 'bytes=1000000-', 416],
])(
  'where a file is asked for with %s: %s, the refusal comes plain, and nobody keeps it',
  async (name, value, status) => {
    const at = await opened();
    for (const takes of ['gzip', 'identity']) {
      const got = await asked(at, BOWL, takes, { [name]: value });
      expect(got).toMatchObject({
        status,
        headers: { 'content-type': 'application/problem+json; charset=utf-8', 'cache-control': 'no-cache' },
      });
      expect(got.headers['content-encoding']).toBeUndefined();
      expect(JSON.parse(got.body.toString())).toMatchObject({
        status,
        detail: expect.stringContaining('no such part'),
      });
    }
  },
);

test.each([
  '/../secret',
  '/%2e%2e/secret',
  '/assets/..%2f..%2fsecret',
  '/assets/../../secret',
  '/assets',
  '/assets/',
  '/%E0%A4',
  '/nothing',
])('packed, too, nothing outside its folder is served, and nothing that is not there: %s', async (path) => {
  const got = await asked(await opened(), path, 'gzip');
  expect(got.headers['content-encoding']).toBeUndefined();
  expect([301, 403, 404]).toContain(got.status);
});

test('the page as built is packed, file for file as it stands there', () => {
  const names = readdirSync(WEB_FOLDER, { recursive: true, encoding: 'utf8' });
  const packed = names.filter((name) => name.endsWith('.gz'));
  for (const kind of [/bowl-[^/\\]*\.js\.gz$/, /bowl-[^/\\]*\.css\.gz$/, /chart-[^/\\]*\.js\.gz$/])
    expect(packed.some((name) => kind.test(name))).toBe(true);
  for (const name of packed) {
    const bytes = gunzipSync(readFileSync(join(WEB_FOLDER, name)));
    expect(bytes.equals(readFileSync(join(WEB_FOLDER, name.slice(0, -3)))), name).toBe(true);
  }
});
