/**
 * What stays as it is from one drawing to the next, kept as pixels: painted again only when something it depends on has changed,
 * laid down as it is otherwise. Knows nothing of what is painted.
 */

export class Layer {
  readonly #pixels = document.createElement('canvas');
  #key = '';

  /**
   * Lays the layer on a canvas of this size, CSS px; `paint` is asked for it only where `key` is another one than last time. `ratio`:
   * device pixels per CSS px.
   */
  lay(
    onto: CanvasRenderingContext2D,
    size: { readonly width: number; readonly height: number },
    ratio: number,
    key: string,
    paint: (canvas: CanvasRenderingContext2D) => void,
  ): void {
    const whole = `${size.width} ${size.height} ${ratio} ${key}`;
    if (whole !== this.#key) {
      this.#pixels.width = Math.floor(size.width * ratio);
      this.#pixels.height = Math.floor(size.height * ratio);
      const canvas = this.#pixels.getContext('2d')!;
      canvas.setTransform(ratio, 0, 0, ratio, 0, 0);
      paint(canvas);
      this.#key = whole;
    }
    this.put(onto, ratio);
  }

  /** Keeps what is on a canvas at this moment, under this key. */
  take(from: CanvasRenderingContext2D, key: string): void {
    this.#key = key;
    this.#pixels.width = from.canvas.width;
    this.#pixels.height = from.canvas.height;
    this.#pixels.getContext('2d')!.drawImage(from.canvas, 0, 0);
  }

  holds(key: string): boolean {
    return key === this.#key;
  }

  /** Lays down what is kept. */
  put(onto: CanvasRenderingContext2D, ratio: number): void {
    onto.drawImage(this.#pixels, 0, 0, this.#pixels.width / ratio, this.#pixels.height / ratio);
  }

  /** What it was painted with looks different now: a face has come that was missing. */
  forget(): void {
    this.#key = '';
  }
}
