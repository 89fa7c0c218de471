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
 * Bytes in, whole lines out, each ended by one LF. LF, CR, CRLF and LFCR all end a line: either byte does, and a line
 * with nothing in it is no line. NULs are dropped, as is a byte order mark at the start of a line. A line over
 * `MAX_LINE_BYTES` is passed on once, cut to one byte more than that, so that everyone after can see it was too long;
 * the rest of it is dropped up to the next line end. A last line without an end is never passed on: it may be half of one.
 */
export class LineReader extends Transform {
  /** One byte more than the longest line, and its end. */
  readonly #line = Buffer.alloc(MAX_LINE_BYTES + 2);
  #length = 0;
  #resyncing = false;

  override _transform(chunk: Buffer, _encoding: BufferEncoding, done: TransformCallback): void {
    for (const byte of chunk) {
      if (byte === LF || byte === CR) {
        this.#passOn();
        this.#resyncing = false;
      } else if (byte !== NUL && !this.#resyncing) {
        this.#take(byte);
      }
    }
    done();
  }

  #take(byte: number): void {
    this.#line[this.#length++] = byte;
    if (this.#length === BOM.length) this.#dropMark();
    if (this.#length <= MAX_LINE_BYTES) return;
    this.#passOn();
    this.#resyncing = true;
  }

  #passOn(): void {
    if (this.#length === 0) return;
    this.#line[this.#length] = LF;
    this.push(Buffer.from(this.#line.subarray(0, this.#length + 1)));
    this.#length = 0;
  }

  #dropMark(): void {
    if (BOM.every((byte, at) => this.#line[at] === byte)) this.#length = 0;
  }
}
