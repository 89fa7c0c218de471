/** What a thermometer sends: made-up lines of a stirred bowl, cut into chunks as a port hands them over; and how they are poured through streams. */
import { once } from 'node:events';
import type { Writable } from 'node:stream';

/** °C, to a hundredth: a bowl that swings slowly about the working band and is stirred. The same every time. */
export function bowlC(n: number): number {
  return Math.round((31.2 + 0.6 * Math.sin(n / 4_000) + 0.05 * Math.sin(n * 12.9898)) * 100) / 100;
}

/** So many values, each written as a line. */
export function linesOf(count: number, line: (valueC: number) => string): string {
  return Array.from({ length: count }, (_, n) => `${line(bowlC(n))}\r\n`).join('');
}

/** Of so many bytes each. */
export function chunksOf(text: string, bytes: number): Buffer[] {
  const all = Buffer.from(text, 'latin1');
  return Array.from({ length: Math.ceil(all.length / bytes) }, (_, n) => all.subarray(n * bytes, (n + 1) * bytes));
}

/** Chunk by chunk, no faster than it takes them. Resolves when `last`, which may be the same, has given all it has. */
export async function pour(chunks: readonly Buffer[], into: Writable, last: NodeJS.EventEmitter): Promise<void> {
  const ended = once(last, 'end');
  for (const chunk of chunks) if (!into.write(chunk)) await once(into, 'drain');
  into.end();
  await ended;
}
