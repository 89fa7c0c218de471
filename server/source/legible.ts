/**
 * Whether what comes from a port can be read at the speed it is heard at: at a wrong one its bytes are no text. Knows bytes and times
 * only: not what a line says, nor which speed that is.
 */

/** `right`: two lines of text with figures in a row. `wrong`: bytes that no thermometer writes. `unsure`: not enough has come. */
export type Verdict = 'unsure' | 'right' | 'wrong';

/** So many lines of text with figures, and so many characters in them, are no chance (ours; `tests/server/source/speed.test.ts` counts wrong ones). */
const LINES_RIGHT = 2;
const CHARACTERS_RIGHT = 8;
/** So many unreadable bytes in one line are no noise on the wire (ours). */
const BYTES_WRONG = 3;
/** So many bytes without an end are no line of text, at whichever speed (ours: longer than the start of any banner). */
const BYTES_ENDLESS = 96;
/** So many times something and a pause, and no end of a line, is no thermometer that writes lines (ours). */
const BURSTS_ENDLESS = 2;
/** After so much quiet a byte begins a line, ms: many times the pause between bytes of one line at the slowest speed tried (ours). */
export const PAUSE_MS = 60;

/** Bytes of one line come no longer apart than this, ms (ours). */
const DRIP_MS = 400;

const LF = 0x0a;
const CR = 0x0d;
const NUL = 0x00;
const TAB = 0x09;
/** The degree sign and the signs °C and °F as UTF-8, Latin-1 and the character sets of old displays write them, one character a byte. */
const DEGREE = /\xc2[\xb0\xba]|\xe2\x84[\x83\x89]|[\xb0\xba\xdf\xf8]/g;
/** More such signs than values fit in a line are no degree signs (ours). */
const DEGREES_MOST = 8;

const STX = '\x02';
const ETX = '\x03';

export class Legible {
  #piece = '';
  /** The piece began with a pause or with the end of a line, so that all of it has to be text. */
  #isFromStart = false;
  /** Since the last pause. */
  #nuls = 0;
  #hasText = false;
  #endlessBursts = 0;
  #lastMs: number | null = null;
  #lines = 0;
  #characters = 0;

  bytes(chunk: Uint8Array, atMs: number): Verdict {
    const pausedMs = this.#lastMs === null ? 0 : atMs - this.#lastMs;
    if (this.quiet(atMs) === 'wrong' || this.#again(pausedMs) === 'wrong') return 'wrong';
    this.#lastMs = atMs;
    for (const byte of chunk) {
      if (byte === LF || byte === CR) {
        if (this.#endOfLine() === 'wrong') return 'wrong';
      } else if (byte === NUL) {
        // Some fill their lines with them; alone they are the low bits of a slower sender.
        if (++this.#nuls >= BYTES_WRONG && !this.#hasText) return 'wrong';
      } else {
        this.#hasText ||= isText(byte);
        this.#piece += String.fromCharCode(byte);
        if (this.#isFromStart && !isText(byte) && this.#isWrongSoFar()) return 'wrong';
        if (this.#piece.length >= BYTES_ENDLESS && this.#endless() === 'wrong') return 'wrong';
      }
    }
    return this.#lines >= LINES_RIGHT && this.#characters >= CHARACTERS_RIGHT ? 'right' : 'unsure';
  }

  /** Nothing has come for a while, or something comes again: what is no text is wrong without an end, too. */
  quiet(atMs: number): Verdict {
    if (this.#lastMs === null || atMs - this.#lastMs < PAUSE_MS) return 'unsure';
    const isWrong = this.#isFromStart && unreadable(this.#piece) > 0;
    if (this.#piece === '') this.#begin();
    return isWrong ? 'wrong' : 'unsure';
  }

  /** A faster sender leaves a byte or two of each line, with no end among them; a slow drip goes on with its line. */
  #again(pausedMs: number): Verdict {
    if (pausedMs < DRIP_MS) return 'unsure';
    this.#endlessBursts = this.#piece === '' ? 0 : this.#endlessBursts + 1;
    this.#begin();
    this.#nuls = 0;
    this.#hasText = false;
    return this.#endlessBursts >= BURSTS_ENDLESS ? 'wrong' : 'unsure';
  }

  #isWrongSoFar(): boolean {
    const bad = unreadable(this.#piece);
    return bad >= BYTES_WRONG || (bad > 0 && !this.#hasText);
  }

  #begin(): void {
    this.#piece = '';
    this.#isFromStart = true;
  }

  #endless(): Verdict {
    const bad = unreadable(this.#piece);
    this.#piece = '';
    this.#isFromStart = false;
    return bad >= BYTES_WRONG ? 'wrong' : 'unsure';
  }

  /** One line that is no text, and the count begins anew; the tail of a line may begin with half a character. A banner's words count for nothing. */
  #endOfLine(): Verdict {
    const line = this.#piece;
    const isWhole = this.#isFromStart;
    this.#begin();
    if (line === '') return 'unsure';
    if (unreadable(line) > 0) {
      this.#lines = 0;
      this.#characters = 0;
      return isWhole ? 'wrong' : 'unsure';
    }
    if (/\d/.test(line)) {
      this.#lines++;
      this.#characters += line.length;
    }
    return 'unsure';
  }
}

/** How many of its characters no thermometer writes. STX before a line and ETX after it frame a reading (ASCII, ANSI X3.4). */
export function unreadable(text: string): number {
  const plain = text.slice(text.startsWith(STX) ? 1 : 0, text.endsWith(ETX) ? -1 : undefined);
  const signs = plain.match(DEGREE)?.length ?? 0;
  const rest = signs > DEGREES_MOST ? plain : plain.replace(DEGREE, '');
  let count = 0;
  for (let at = 0; at < rest.length; at++) if (!isText(rest.charCodeAt(at))) count++;
  return count;
}

function isText(code: number): boolean {
  return (code >= 0x20 && code <= 0x7e) || code === TAB;
}
