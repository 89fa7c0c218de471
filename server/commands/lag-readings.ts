/** What the probe says while it is plunged: out of a table, or out of a thermometer's lines once it is clear how they are to be read. */
import { PATIENCE_MS } from '../core/reading/columns.ts';
import { recognise, recognitionOf } from '../core/reading/recognition.ts';
import { valuesByRole } from '../core/reading/roles.ts';
import { sensed } from '../core/reading/sensed.ts';
import type { RecordedInput } from '../core/record/input.ts';
import type { KnownProbe } from '../settings.ts';

/** After so many lines in a row without a temperature nothing will come of it (ours). */
const LINES_VAIN = 10;

export class PlungeReadings {
  readonly #known: KnownProbe;
  #recognition = recognitionOf(null);
  #unread = 0;
  #unreadSinceMs = 0;
  #areVain = false;

  constructor(known: KnownProbe) {
    this.#known = known;
  }

  /** Nothing has been read for a while, nor will be: as long as it is only not sure how, it is waited for. */
  get areVain(): boolean {
    return this.#areVain;
  }

  /** One reading of the chocolate's probe, or none. */
  of(input: RecordedInput): readonly { readonly atMs: number; readonly valueC: number }[] {
    const valueC =
      input.kind === 'reading' ? input.valuesC.chocolate : input.kind === 'line' ? this.#line(input) : null;
    return typeof valueC === 'number' ? [{ atMs: input.atMs, valueC }] : [];
  }

  #line({ atMs, text }: Extract<RecordedInput, { kind: 'line' }>): number | null {
    const { roles, sensors } = this.#known;
    const { recognition, reading: read } = recognise(this.#recognition, text, atMs, this.#known);
    this.#recognition = recognition;
    const reading = sensed(read, sensors);
    const valueC = reading.ok ? (valuesByRole(reading.channels, roles, reading.places).chocolate ?? null) : null;
    if (valueC !== null) this.#unread = 0;
    else this.#missed(atMs, !reading.ok && reading.reason === 'unsure');
    return valueC;
  }

  #missed(atMs: number, isUnsure: boolean): void {
    if (this.#unread === 0) this.#unreadSinceMs = atMs;
    this.#unread++;
    const isLong = atMs - this.#unreadSinceMs > PATIENCE_MS;
    this.#areVain = this.#unread >= LINES_VAIN && (!isUnsure || isLong);
  }
}
