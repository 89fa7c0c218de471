/**
 * Cuts a stream of bytes into lines, whatever ends them and however they are chunked, in bounded memory.
 * Knows bytes only: not where they come from, not what a line says.
 */
import { Transform, type TransformCallback } from 'node:stream';

/** Longest line passed on whole, bytes (ours: a dozen labelled channels in JSON take under 300). */
export const MAX_LINE_BYTES = 512;

/** Taken at a time, bytes (ours: a second of the quickest usual port). */
const BLOCK_BYTES = 16 * 1024;

const NUL = 0x00;
const LF = 0x0a;
const CR = 0x0d;
const BOM = [0xef, 0xbb, 0xbf] as const;

/**
 * Bytes in, whole lines out, each ended by one LF; those that one chunk completes come in one piece. LF, CR, CRLF and LFCR all end a line:
 * either byte does, and a line with nothing in it is no line. NULs are dropped, as is a byte order mark at the start of a line. A line over
 * `MAX_LINE_BYTES` is passed on once, cut to one byte more than that, so that everyone after can see it was too long;
 * the rest of it is dropped up to the next line end. A last line without an end is never passed on: it may be half of one.
 */
export class LineReader extends Transform {
  /** Written from front to back and never over: what was passed on is a piece of it. */
  #block = Buffer.alloc(0);
  /** Where the line that has no end yet begins and ends in it. */
  #start = 0;
  #end = 0;
  #resyncing = false;

  override _transform(chunk: Buffer, _encoding: BufferEncoding, done: TransformCallback): void {
    this.#makeRoomFor(chunk.length);
    const block = this.#block;
    const from = this.#start;
    let start = from;
    let end = this.#end;
    let resyncing = this.#resyncing;
    for (let at = 0; at < chunk.length; at++) {
      const byte = chunk[at]!;
      if (byte === LF || byte === CR) {
        if (end > start) start = end = passOn(block, end);
        resyncing = false;
      } else if (byte !== NUL && !resyncing) {
        block[end++] = byte;
        if (end - start === BOM.length && isMark(block, start)) end = start;
        resyncing = end - start > MAX_LINE_BYTES;
        if (resyncing) start = end = passOn(block, end);
      }
    }
    this.#start = start;
    this.#end = end;
    this.#resyncing = resyncing;
    if (start > from) this.push(block.subarray(from, start));
    done();
  }

  /** Every line end of a chunk leaves at most one LF; a line that is cut short leaves one more. */
  #makeRoomFor(bytes: number): void {
    const wanted = this.#end + bytes + 1;
    if (wanted <= this.#block.length) return;
    const begun = this.#block.subarray(this.#start, this.#end);
    this.#block = Buffer.allocUnsafeSlow(Math.max(BLOCK_BYTES, MAX_LINE_BYTES + bytes + 1));
    this.#block.set(begun);
    this.#start = 0;
    this.#end = begun.length;
  }
}

/** Ends a line, and gives where the next begins. */
function passOn(block: Buffer, end: number): number {
  block[end] = LF;
  return end + 1;
}

function isMark(bytes: Buffer, start: number): boolean {
  return bytes[start] === BOM[0] && bytes[start + 1] === BOM[1] && bytes[start + 2] === BOM[2];
}
