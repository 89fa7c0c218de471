/** The run as it has been told, and when a person last told Bowlside anything. Knows what a session tells, and nothing of sound. */
import { isByPerson } from '../core/show/resting.ts';
import { emptyView, foldEvents, openView } from '../core/show/view.ts';
import type { View } from '../core/show/view.ts';
import type { ServerMessage } from '../core/show/wire.ts';

export class Attendance {
  #view: View = emptyView;
  #tendedAtMs = 0;

  get view(): View {
    return this.#view;
  }

  /** Feed clock; 0: never. */
  get tendedAtMs(): number {
    return this.#tendedAtMs;
  }

  /** `atMs`: feed clock when it is told; a run that begins and a note that is written have a person behind them. */
  hear(message: ServerMessage, atMs: number): void {
    switch (message.kind) {
      case 'snapshot': {
        const { info, events } = message;
        this.#view = info === null ? emptyView : foldEvents(openView(info), events);
        this.#tend(atMs);
        return;
      }
      case 'tail':
      case 'news':
        this.#view = foldEvents(this.#view, message.events);
        for (const event of message.events) if (isByPerson(event)) this.#tend(event.atMs);
        return;
      case 'note':
        this.#tend(atMs);
        return;
      default:
    }
  }

  #tend(atMs: number): void {
    this.#tendedAtMs = Math.max(this.#tendedAtMs, atMs);
  }
}
