/** A whole run from elsewhere as the rows it will be in the data file, put together turn by turn. Pure: whoever writes it has no work left but writing. */
import type { CardEntry } from '../core/record/card.ts';
import type { RunEvent } from '../core/record/event.ts';
import type { Reading } from '../core/record/run.ts';
import type { NoteInfo } from '../core/show/wire.ts';
import { type Block, encodedBlock, startsBlock } from './blocks.ts';
import type { Turn } from './records.ts';
import { EMPTY_TALLY, type Tally, tallied } from './tally.ts';
import { extended, NO_TILES, PICTURE_COLUMNS, type Tiling } from './tiles.ts';

export interface IncomingRun {
  /** Each as JSON, in order. */
  readonly inputs: readonly string[];
  readonly events: readonly string[];
  readonly blocks: readonly Block[];
  readonly notes: readonly NoteInfo[];
  readonly card: readonly CardEntry[];
  /** Feed clock of its last input: it is over. */
  readonly endedAtMs: number;
  readonly lastAtMs: number;
  readonly tally: Tally;
  readonly curve: Tiling;
  /** ISO 8601. */
  readonly importedAtWall: string;
}

export class Incoming {
  readonly #inputs: string[] = [];
  readonly #events: string[] = [];
  readonly #blocks: Block[] = [];
  #filling: Reading[] = [];
  #lastAtMs = 0;
  #tally: Tally = EMPTY_TALLY;
  #curve: Tiling = NO_TILES;

  /** In order of time. */
  add({ input, events, readings }: Turn): void {
    this.#inputs.push(JSON.stringify(input));
    this.addEvents(events);
    for (const reading of readings) this.#addReading(reading);
    this.#tally = tallied(this.#tally, [], readings);
    this.#lastAtMs = input.atMs;
  }

  /** Events of the turn that is added next, where it has too many to be added at once. */
  addEvents(events: readonly RunEvent[]): void {
    for (const event of events) this.#events.push(JSON.stringify(event));
    this.#tally = tallied(this.#tally, events, []);
  }

  /** Nothing may be added afterwards. */
  whole(notes: readonly NoteInfo[], card: readonly CardEntry[], importedAtWall: string): IncomingRun {
    this.#endBlock();
    return {
      inputs: this.#inputs,
      events: this.#events,
      blocks: this.#blocks,
      notes,
      card,
      endedAtMs: this.#lastAtMs,
      lastAtMs: this.#lastAtMs,
      tally: this.#tally,
      curve: this.#curve,
      importedAtWall,
    };
  }

  #addReading(reading: Reading): void {
    if (startsBlock(this.#filling, reading)) this.#endBlock();
    this.#filling.push(reading);
  }

  #endBlock(): void {
    if (this.#filling.length === 0) return;
    this.#blocks.push(encodedBlock(this.#filling));
    this.#curve = extended(this.#curve, this.#filling, PICTURE_COLUMNS);
    this.#filling = [];
  }
}
