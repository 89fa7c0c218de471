/** Bytes as they come at their worst: noise at power-on, a line that never ends, and any way of cutting them up. */
import { finished } from 'node:stream/promises';
import { monitorEventLoopDelay } from 'node:perf_hooks';
import { chance } from '../../server/source/kitchen/chance.ts';
import { LineReader } from '../../server/source/line-reader.ts';
import { openPort } from '../../server/source/serial-port.ts';
import { deedsOf } from '../support/fake/deeds.ts';
import { bogus, heardVirtually } from '../support/fake/heard.ts';
import { PLAIN, readScript } from '../support/fake/script.ts';
import { VirtualWire } from '../support/fake/virtual-wire.ts';
import { memoryLeft } from '../support/memory.ts';
import { within, type Bounds, type Row } from './rows.ts';

/** Boards that restart in the middle of the work: what their power-on noise brings to the bowl. */
export async function bootNoise(bounds: Bounds): Promise<Row[]> {
  let [boots, readings, readOn] = [0, 0, 0];
  for (const i of within(bounds)) {
    const read = readScript(`seed=${bounds.seed + i} for=50 reset@12.1 reset@16.3`);
    if (!read.ok) throw new Error(read.complaint);
    const heard = await heardVirtually(read.script);
    readings += bogus(heard, read.script).length;
    const last = heard.bowl.readings.findLast(({ quality }) => quality === 'good');
    if (last !== undefined && last.atMs > 45_000) readOn++;
    boots++;
  }
  return [
    { name: 'seeds', unit: '', value: boots },
    { name: 'bogus readings', unit: '', value: readings, most: 0 },
    { name: 'read on afterwards', unit: '', value: readOn, least: boots },
  ];
}

const MEGABYTE = 1024 * 1024;
const PIECE_BYTES = 16 * 1024;
/** What a line without end may leave behind, bytes, and how long it may hold anybody up, ms. */
const GROWTH_BYTES = 64 * 1024;
const BLOCK_MS = 50;

/** `count` megabytes without a line end into a port of ours. */
export async function endlessLine({ count, seed }: Bounds): Promise<Row[]> {
  const wire = new VirtualWire();
  await wire.obey({ atMs: 0, kind: 'plug', device: 'own', socket: 1, path: 0 });
  let lines = 0;
  const opened = await openPort(wire.identity.path, 9600, { bytes: () => {}, line: () => lines++, gone: () => {} });
  if (!opened.ok) throw new Error(opened.message);
  const luck = chance(seed);
  const digits = Array.from({ length: PIECE_BYTES }, () => String(Math.floor(luck.between(0, 10)))).join('');
  const send = async (bytes: number): Promise<void> => {
    for (let sent = 0; sent < bytes; sent += PIECE_BYTES) {
      await wire.obey({ atMs: 0, kind: 'say', device: 'own', bytes: digits });
      while (wire.unread > 0) await new Promise(setImmediate);
    }
  };
  // The library's own pool, and code that runs for the first time, are there before it begins.
  await send(MEGABYTE);
  const delay = monitorEventLoopDelay({ resolution: 5 });
  const before = await memoryLeft();
  delay.enable();
  await send(count * MEGABYTE);
  delay.disable();
  const grown = (await memoryLeft()) - before;
  await opened.port.close();
  await wire.close();
  return [
    { name: 'megabytes without a line end', unit: '', value: count },
    { name: 'lines told of', unit: '', value: lines, most: 1, least: 1 },
    { name: 'buffers left behind', unit: 'KiB', value: grown / 1024, most: GROWTH_BYTES / 1024 },
    { name: 'longest block', unit: 'ms', value: delay.max / 1e6 - 5, most: BLOCK_MS, timing: true },
  ];
}

/** All that can be wrong with bytes, in half a minute. */
const WORST =
  'every=0.1 for=30 cr@1+2 lfcr@3+2 nul@5+2 ff@7+2 torn@9+2 doubled@11+2 endless@13+0.3 drip@14+1 speed@15+4 banner@20 reset@21 theft@23+4 comma@27';
/** Most places at which the bytes are cut. */
const MOST_CUTS = 400;

/** The same bytes cut at random places give the same lines. */
export async function chunkings(bounds: Bounds): Promise<Row[]> {
  const luck = chance(bounds.seed);
  let [done, different] = [0, 0];
  let [bytes, whole]: [Buffer, string] = [Buffer.alloc(0), ''];
  for (const i of within(bounds)) {
    if (i % 100 === 0) {
      bytes = worstBytes(bounds.seed + i);
      whole = await linesOf([bytes]);
    }
    const cuts = Array.from({ length: Math.floor(luck.logBetween(1, MOST_CUTS)) }, () =>
      Math.floor(luck.between(0, bytes.length)),
    ).toSorted((a, b) => a - b);
    const chunks = [0, ...cuts].map((from, at) => bytes.subarray(from, cuts[at] ?? bytes.length));
    if ((await linesOf(chunks)) !== whole) different++;
    done++;
  }
  return [
    { name: 'chunkings', unit: '', value: done },
    { name: 'that gave other lines', unit: '', value: different, most: 0 },
    { name: 'bytes in each', unit: '', value: bytes.length, least: 1000 },
  ];
}

function worstBytes(seed: number): Buffer {
  const read = readScript(WORST);
  const script = { ...(read.ok ? read.script : PLAIN), seed };
  return Buffer.from(
    deedsOf(script)
      .map((deed) => (deed.kind === 'say' ? deed.bytes : ''))
      .join(''),
    'latin1',
  );
}

async function linesOf(chunks: readonly Buffer[]): Promise<string> {
  const reader = new LineReader();
  const lines: Buffer[] = [];
  reader.on('data', (line: Buffer) => lines.push(line));
  for (const chunk of chunks) reader.write(chunk);
  reader.end();
  await finished(reader);
  return Buffer.concat(lines).toString('latin1');
}
