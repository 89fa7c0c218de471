/**
 * Cuts a stream of bytes into lines, whatever ends them and however they are chunked, in bounded memory.
 * Knows bytes only: not where they come from, not what a line says.
 */
import { Transform, type TransformCallback } from 'node:stream';

/** Longest line passed on whole, bytes (ours: a dozen labelled channels in JSON take under 300). */
export const MAX_LINE_BYTES = 512;

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
  /** What has no end yet, and room for a chunk behind it. */
  #room = Buffer.alloc(0);
  #length = 0;
  #resyncing = false;

  override _transform(chunk: Buffer, _encoding: BufferEncoding, done: TransformCallback): void {
    const room = this.#roomFor(chunk.length);
    let start = 0;
    let end = this.#length;
    for (let at = 0; at < chunk.length; at++) {
      const byte = chunk[at]!;
      if (byte === LF || byte === CR) {
        if (end > start) start = end = passOn(room, end);
        this.#resyncing = false;
      } else if (byte !== NUL && !this.#resyncing) {
        room[end++] = byte;
        if (end - start === BOM.length && isMark(room, start)) end = start;
        this.#resyncing = end - start > MAX_LINE_BYTES;
        if (this.#resyncing) start = end = passOn(room, end);
      }
    }
    this.#length = end - start;
    if (start > 0) {
      this.push(Buffer.from(room.subarray(0, start)));
      room.copyWithin(0, start, end);
    }
    done();
  }

  /** Every line end of a chunk leaves at most one LF; a line that is cut short leaves one more. */
  #roomFor(bytes: number): Buffer {
    const wanted = MAX_LINE_BYTES + bytes + 1;
    if (this.#room.length >= wanted) return this.#room;
    const room = Buffer.alloc(wanted);
    this.#room.copy(room, 0, 0, this.#length);
    this.#room = room;
    return room;
  }
}

/** Ends a line, and gives where the next begins. */
function passOn(room: Buffer, end: number): number {
  room[end] = LF;
  return end + 1;
}

function isMark(bytes: Buffer, start: number): boolean {
  return bytes[start] === BOM[0] && bytes[start + 1] === BOM[1] && bytes[start + 2] === BOM[2];
}
