/**
 * A serial port in the test's hands in place of the library's: what it says, at which speed, and what it answers. Counts how often it was
 * opened, and keeps all that was ever sent to it.
 */
import { LineReader } from '../../server/source/line-reader.ts';
import type { OpenPortAt, PortListener } from '../../server/source/serial-port.ts';
import { received } from './uart.ts';

export interface MadePort {
  readonly open: OpenPortAt;
  /** Speeds it was opened at, one for each opening. */
  readonly openings: readonly number[];
  /** All speeds it ran at, in their order. */
  readonly speeds: readonly number[];
  readonly sent: readonly string[];
  /** Says this at the device's own speed, one byte a character; lost where no one has it open. */
  say(text: string): void;
  /** What the device says to what is sent to it at its own speed; null: nothing. */
  answer(to: (asked: string) => string | null): void;
}

/** `baud`: the device's own speed. */
export function madePort(baud: number): MadePort {
  const openings: number[] = [];
  const speeds: number[] = [];
  const sent: string[] = [];
  let port: { readonly hear: (chunk: Uint8Array) => void; baud: number } | null = null;
  let answerTo: (asked: string) => string | null = () => null;

  const say = (text: string): void => {
    const said = Uint8Array.from(text, (each) => each.charCodeAt(0));
    if (port !== null) port.hear(received([said], baud, port.baud)[0]!);
  };
  return {
    openings,
    speeds,
    sent,
    say,
    answer(to) {
      answerTo = to;
    },
    open(_path, openedAt, listener) {
      openings.push(openedAt);
      speeds.push(openedAt);
      const lines = linesTo(listener);
      const opened = { hear: (chunk: Uint8Array) => lines.hear(chunk), baud: openedAt };
      port = opened;
      return Promise.resolve({
        ok: true,
        port: {
          setBaud(other) {
            opened.baud = other;
            speeds.push(other);
            lines.begin();
            return Promise.resolve(true);
          },
          send(text) {
            sent.push(text);
            const answer = opened.baud === baud ? answerTo(text) : null;
            if (answer !== null) setImmediate(() => port === opened && say(answer));
            return Promise.resolve(true);
          },
          close() {
            if (port === opened) port = null;
            return Promise.resolve();
          },
        },
      });
    },
  };
}

/** Bytes to lines as the real port has them. */
function linesTo(listener: PortListener) {
  let whole = false;
  const reader = new LineReader();
  reader.on('data', (lines: Buffer) => {
    for (const text of lines.toString('latin1').split('\n').slice(0, -1)) {
      listener.line(text, whole);
      whole = true;
    }
  });
  return {
    hear(chunk: Uint8Array): void {
      listener.bytes(chunk);
      reader.write(chunk);
    },
    begin(): void {
      whole = false;
    },
  };
}
