/** The line reader alone: bytes in, lines out. Properties are seeded, so that a failure repeats. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { LineReader, MAX_LINE_BYTES } from '../../../server/source/line-reader.ts';
import { memoryLeft } from '../../support/memory.ts';

/** Feeds the chunks and returns the lines that came out. */
async function linesOf(...chunks: readonly (Buffer | string)[]): Promise<string[]> {
  const reader = new LineReader();
  for (const chunk of chunks) reader.write(typeof chunk === 'string' ? Buffer.from(chunk, 'latin1') : chunk);
  reader.end();
  const text = Buffer.concat(await reader.toArray()).toString('latin1');
  expect(text === '' || text.endsWith('\n')).toBe(true);
  return text.split('\n').slice(0, -1);
}

function cutAt(bytes: Buffer, places: readonly number[]): Buffer[] {
  const cuts = [0, ...[...places].sort((a, b) => a - b), bytes.length];
  return cuts.slice(1).map((end, at) => bytes.subarray(cuts[at], end));
}

test.each([
  ['LF', '\n'],
  ['CR', '\r'],
  ['CRLF', '\r\n'],
  ['LFCR', '\n\r'],
])('%s ends a line, with no empty line after it', async (_name, end) => {
  expect(await linesOf(`31.2${end}31.3${end}31.4${end}`)).toEqual(['31.2', '31.3', '31.4']);
});

test('[L1] endings may change from line to line', async () => {
  expect(await linesOf('a\nb\rc\r\nd\n\re\r\r\nf\n')).toEqual(['a', 'b', 'c', 'd', 'e', 'f']);
});

test('what has no end yet is kept back, and joined with what follows', async () => {
  expect(await linesOf('31.')).toEqual([]);
  expect(await linesOf('31.', '25', '\n')).toEqual(['31.25']);
});

test('every byte but the line ends and NUL is kept as it is', async () => {
  const all = Buffer.from(Array.from({ length: 256 }, (_, byte) => byte).filter((byte) => ![0, 10, 13].includes(byte)));
  expect(await linesOf(all, '\n')).toEqual([all.toString('latin1')]);
});

test('NULs are dropped anywhere, a byte order mark at the start of a line', async () => {
  expect(await linesOf('\0\0\xef\xbb\xbf31\0.5\n\xef\xbb\xbf32\n')).toEqual(['31.5', '32']);
  expect(await linesOf('t\xef\xbb\xbf\n\xef\xbb\n')).toEqual(['t\xef\xbb\xbf', '\xef\xbb']);
});

test('[L2] a line of 512 bytes is passed on whole', async () => {
  const longest = 'x'.repeat(MAX_LINE_BYTES);
  expect(await linesOf(longest, '\r\n31.5\n')).toEqual([longest, '31.5']);
});

test('[L2] a longer line is told of once, cut to 513 bytes, and the next line is read well', async () => {
  const tooLong = 'x'.repeat(5000);
  expect(await linesOf(tooLong, '\r\n31.5\r\n', tooLong, '\n')).toEqual(['x'.repeat(513), '31.5', 'x'.repeat(513)]);
});

test('[L1] any chunking of any bytes gives the same lines', async () => {
  const piece = fc.oneof(
    fc.constantFrom(
      '\n',
      '\r',
      '\r\n',
      '\n\r',
      '\0',
      '\xef\xbb\xbf',
      '31.25',
      '-4 °C',
      'x'.repeat(511),
      'y'.repeat(513),
    ),
    fc.uint8Array({ maxLength: 20 }).map((bytes) => Buffer.from(bytes).toString('latin1')),
  );
  const stream = fc.array(piece, { maxLength: 12 }).map((pieces) => Buffer.from(pieces.join(''), 'latin1'));
  await fc.assert(
    fc.asyncProperty(stream, fc.array(fc.nat(), { maxLength: 20 }), async (bytes, places) => {
      const whole = await linesOf(bytes);
      const cuts = places.map((place) => place % (bytes.length + 1));
      expect(await linesOf(...cutAt(bytes, cuts))).toEqual(whole);
      expect(await linesOf(...cutAt(bytes, [...bytes.keys()]))).toEqual(whole);
    }),
    { seed: 20_260_101, numRuns: 400 },
  );
});

test('a story cut in two at any byte gives the same lines', async () => {
  const story = Buffer.from('\xef\xbb\xbfboot\r\n31.2;22.0\r31.3;22.1\n\r{"t":31.4}\n31.5 \xb0C\r\n', 'latin1');
  const whole = ['boot', '31.2;22.0', '31.3;22.1', '{"t":31.4}', '31.5 \xb0C'];
  for (let at = 0; at <= story.length; at++) expect(await linesOf(...cutAt(story, [at]))).toEqual(whole);
});

test('lines of any ordinary text come back as they were sent, whatever ends them', async () => {
  const text = fc.stringMatching(/^[\x20-\x7e\xa0-\xee]{1,80}$/);
  const end = fc.constantFrom('\n', '\r', '\r\n', '\n\r');
  await fc.assert(
    fc.asyncProperty(fc.array(fc.tuple(text, end)), async (sent) => {
      expect(await linesOf(sent.flat().join(''))).toEqual(sent.map(([line]) => line));
    }),
    { seed: 20_260_102, numRuns: 400 },
  );
});

test('[L2] ten megabytes without a line end leave nothing behind but one line of 513 bytes', async () => {
  const reader = new LineReader();
  let passedOn = 0;
  reader.on('data', (lines: Buffer) => {
    passedOn += lines.length;
  });
  const chunk = Buffer.alloc(64 * 1024, 'x');
  const feed = (): Promise<void> => new Promise((resolve) => reader.write(chunk, () => resolve()));
  await feed();
  const before = await memoryLeft();
  for (let sent = 0; sent < 160; sent++) await feed();
  expect((await memoryLeft()) - before).toBeLessThan(64 * 1024);
  expect(passedOn).toBe(MAX_LINE_BYTES + 2);
});
