/** The browser's own speaking voice, off until asked for. Says the newest thing only: what is overtaken is cut short. */
export class Reader {
  #isOn = false;
  readonly #listeners = new Set<() => void>();

  get isOn(): boolean {
    return this.#isOn;
  }

  /** False where the browser has no voice at all. */
  get isThere(): boolean {
    return 'speechSynthesis' in window;
  }

  subscribe(listener: () => void): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  /** On only from a tap, as browsers want it. */
  turn(isOn: boolean): void {
    this.#isOn = isOn && this.isThere;
    if (!this.#isOn && this.isThere) speechSynthesis.cancel();
    for (const listener of this.#listeners) listener();
  }

  say(text: string): void {
    if (!this.#isOn) return;
    const words = new SpeechSynthesisUtterance(text);
    words.lang = 'en';
    speechSynthesis.cancel();
    speechSynthesis.speak(words);
  }
}

/** A page has one. */
export const reader = new Reader();
