/** The newest lines of a thermometer, for somebody who wants to see what is understood of them. Keeps few; they are in the trace anyway. */
import { explained, type Heard, type HeardText, type SaidOfAll } from '../core/reading/explained.ts';
import type { Recognition } from '../core/reading/recognition.ts';

/** Ours: more than a screen shows. */
const LINES_KEPT = 20;

export class HeardLines {
  #lines: readonly { readonly atMs: number; readonly text: string }[] = [];

  add(atMs: number, text: string): void {
    this.#lines = [{ atMs, text }, ...this.#lines.slice(0, LINES_KEPT - 1)];
  }

  /** Newest first. */
  get texts(): readonly string[] {
    return this.#lines.map(({ text }) => text);
  }

  told(atMs: number, recognition: Recognition, said: SaidOfAll): Heard {
    const lines = this.#lines.map((line) => ({ ...line, ...explained(recognition, line.text, line.atMs, said) }));
    return { atMs, format: recognition.format, question: questionOf(recognition, lines), lines };
  }
}

function questionOf({ format, asksComma }: Recognition, lines: readonly HeardText[]): Heard['question'] {
  if (asksComma) return 'comma';
  return format?.asks === true && lines.some(({ why }) => why === 'ambiguous') ? 'which' : null;
}
