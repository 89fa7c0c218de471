/** What the map keeps as pixels from one drawing to the next. */
import { Layer } from './layer.ts';

export class Kept {
  readonly ground = new Layer();
  /** Words that stand still while the map slides. */
  readonly words = new Layer();
  /** Of an overview that stands still, the trace as well. */
  readonly past = new Layer();

  /** What it was painted with looks different now: a face has come that was missing. */
  forget(): void {
    for (const layer of [this.ground, this.words, this.past]) layer.forget();
  }
}
