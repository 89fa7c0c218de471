/** The newest lines of a thermometer, for somebody who wants to see what is understood of them. Keeps few; they are in the trace anyway. */
import type { State } from '../core/engine.ts';
import { explained, type Heard, type HeardText } from '../core/reading/explained.ts';

/** Ours: more than a screen shows. */
const LINES_KEPT = 20;

export class HeardLines {
  #lines: readonly { readonly atMs: number; readonly text: string }[] = [];

  add(atMs: number, text: string): void {
    this.#lines = [{ atMs, text }, ...this.#lines.slice(0, LINES_KEPT - 1)];
  }

  told(atMs: number, { recognition, header }: Pick<State, 'recognition' | 'header'>): Heard {
    const lines = this.#lines.map((line) => ({ ...line, ...explained(recognition, line.text, line.atMs, header) }));
    return { atMs, format: recognition.format, question: questionOf(recognition, lines), lines };
  }
}

function questionOf({ format, asksComma }: State['recognition'], lines: readonly HeardText[]): Heard['question'] {
  if (asksComma) return 'comma';
  return format?.asks === true && lines.some(({ why }) => why === 'ambiguous') ? 'which' : null;
}
