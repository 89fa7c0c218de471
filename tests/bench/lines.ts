/** What cutting bytes into lines costs: our line reader alone against the bare readline parser, in chunks as they come from a slow, a quick and a stalled port. */
import { ReadlineParser } from '@serialport/parser-readline';
import { LineReader } from '../../server/source/line-reader.ts';
import { against } from './against.ts';
import type { Figure } from './figures.ts';
import { chunksOf, linesOf, pour } from './stream.ts';

const LINES = 100_000;
const CHUNK_BYTES = [16, 64, 1_024, 65_536];
const LEAST = 2;

export async function measureLines(rounds: number): Promise<readonly Figure[]> {
  const text = linesOf(LINES, (valueC) => `T=${valueC.toFixed(2)} C`);
  const figures: Figure[] = [];
  for (const bytes of CHUNK_BYTES) {
    const chunks = chunksOf(text, bytes);
    const name = `line reader, chunks of ${bytes} bytes`;
    const works = { floor: () => byParser(chunks), ours: () => byReader(chunks) };
    figures.push(...(await against({ name, count: LINES, each: 'line', ...works, least: LEAST }, rounds)));
  }
  return figures;
}

/** The sum of all lines' lengths, each weighed by its number: a line lost, cut or out of order shows. */
class Weighed {
  #sum = 0;
  #count = 0;

  add(line: string): void {
    this.#count++;
    this.#sum += this.#count * line.length;
  }

  get sum(): number {
    return this.#sum;
  }
}

async function byParser(chunks: readonly Buffer[]): Promise<number> {
  const parser = new ReadlineParser({ delimiter: '\r\n' });
  const all = new Weighed();
  parser.on('data', (line: string) => all.add(line));
  await pour(chunks, parser, parser);
  return all.sum;
}

/** It hands on bytes: made text and taken apart here, so that both sides end with the same lines. */
async function byReader(chunks: readonly Buffer[]): Promise<number> {
  const reader = new LineReader();
  const all = new Weighed();
  reader.on('data', (lines: Buffer) => {
    const text = lines.toString('latin1');
    for (let start = 0, end; (end = text.indexOf('\n', start)) >= 0; start = end + 1) all.add(text.slice(start, end));
  });
  await pour(chunks, reader, reader);
  return all.sum;
}
