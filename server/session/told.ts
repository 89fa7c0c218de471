/**
 * What pages have been told of one run, and from it the answer to a page that comes (back): nothing missed, the tail, or a snapshot.
 * A page that has one of these and every later piece of news has it all, once. Knows no sockets.
 */
import type { RunEvent } from '../core/record/event.ts';
import type { Reading } from '../core/record/run.ts';
import type { NoteInfo, ResumePoint, RunInfo, ServerMessage, WireReading } from '../core/show/wire.ts';
import { QUALITY_CODE } from '../core/show/wire.ts';
import { extended, NO_TILES, type Tiling } from '../store/tiles.ts';
import type { Brought } from './untold.ts';

/** Newest readings kept one by one for a tail (ours: ten minutes at ten a second, 200 KB on the wire); a page away for longer gets columns. */
const RECENT_READINGS = 6_000;
/** Columns of a snapshot's curve (ours: finer than a wide screen, at most 100 KB on the wire). */
const SNAPSHOT_COLUMNS = 2400;
/** So many readings are put into the curve at once (ours): each time all its columns are copied, which late in a run costs more than the rest of a reading. */
const DRAWN_AT_ONCE = 500;

export class Told {
  readonly #bowl: string;
  readonly #events: RunEvent[] = [];
  readonly #recent: WireReading[] = [];
  readonly #notes: NoteInfo[];
  #info: RunInfo;
  #tiling: Tiling = NO_TILES;
  /** Readings that the curve has not got yet. */
  #undrawn: Reading[] = [];
  #readingCount = 0;
  #recordedTo = 0;

  constructor(bowl: string, info: RunInfo, notes: readonly NoteInfo[] = []) {
    this.#bowl = bowl;
    this.#info = info;
    this.#notes = [...notes];
  }

  get info(): RunInfo {
    return this.#info;
  }

  /** Takes all of this as told and gives the message that tells it; null where there is nothing to tell. */
  tell(brought: readonly Brought[]): ServerMessage | null {
    if (brought.length === 0) return null;
    const events = brought.flatMap((each) => each.events);
    for (const event of events) this.#events.push(event);
    const readings = this.#remember(brought.flatMap((each) => each.readings));
    return { kind: 'news', ...this.#stretch(events, readings) };
  }

  /** Events up to this `seq` are on disk. True where that is news in itself: they had been told before. */
  recorded(seq: number): boolean {
    const news = seq > this.#recordedTo && this.#recordedTo < this.#lastSeq();
    this.#recordedTo = Math.max(seq, this.#recordedTo);
    return news;
  }

  /** News of nothing but how far the record goes. */
  recordNews(): ServerMessage {
    return { kind: 'news', ...this.#stretch([], []) };
  }

  note(note: NoteInfo): ServerMessage {
    this.#notes.push(note);
    return this.#noteMessage(note);
  }

  /** The shortest answer that leaves no gap. Notes are few and have no numbers: all are said again, and the page knows them by id. */
  catchUp(from: ResumePoint | null): ServerMessage[] {
    const missed = from === null ? null : this.#missedSince(from);
    if (missed === null) return [this.snapshot()];
    return [missed, ...this.#notes.map((note) => this.#noteMessage(note))];
  }

  snapshot(): ServerMessage {
    this.#draw();
    return {
      kind: 'snapshot',
      bowl: this.#bowl,
      info: this.#info,
      events: [...this.#events],
      tiles: this.#tiling.tiles,
      notes: [...this.#notes],
      readingCount: this.#readingCount,
      recordedTo: this.#recordedTo,
    };
  }

  /** null where only a snapshot helps: another run, a page ahead of us, or readings no longer kept one by one. */
  #missedSince(from: ResumePoint): ServerMessage | null {
    const readings = this.#readingCount - from.readingCount;
    const events = this.#lastSeq() - from.seq;
    const known = from.run === this.#info.run && events >= 0 && readings >= 0 && readings <= this.#recent.length;
    if (!known) return null;
    if (events === 0 && readings === 0) return { kind: 'nothing-missed', bowl: this.#bowl, run: from.run };
    const missedReadings = this.#recent.slice(this.#recent.length - readings);
    return { kind: 'tail', ...this.#stretch(this.#events.slice(from.seq), missedReadings) };
  }

  #stretch(events: readonly RunEvent[], readings: readonly WireReading[]) {
    const { run } = this.#info;
    return {
      bowl: this.#bowl,
      run,
      events,
      readings,
      readingCount: this.#readingCount,
      recordedTo: this.#recordedTo,
    };
  }

  #noteMessage(note: NoteInfo): ServerMessage {
    return { kind: 'note', bowl: this.#bowl, run: this.#info.run, note };
  }

  #remember(readings: readonly Reading[]): WireReading[] {
    const wired = wireReadings(readings);
    for (const reading of readings) this.#undrawn.push(reading);
    if (this.#undrawn.length >= DRAWN_AT_ONCE) this.#draw();
    this.#readingCount += wired.length;
    for (const reading of wired) this.#recent.push(reading);
    // Cut in strides: shifting one off at each reading would move the whole list each time.
    if (this.#recent.length > 2 * RECENT_READINGS) this.#recent.splice(0, this.#recent.length - RECENT_READINGS);
    return wired;
  }

  #draw(): void {
    this.#tiling = extended(this.#tiling, this.#undrawn, SNAPSHOT_COLUMNS);
    this.#undrawn = [];
  }

  /** `seq` runs 1, 2, 3… without holes, so the number told is the last one told. */
  #lastSeq(): number {
    return this.#events.length;
  }
}

/** The chocolate's readings as pages get them; other channels have no curve there. */
export function wireReadings(readings: readonly Reading[]): WireReading[] {
  return readings
    .filter((reading) => reading.role === 'chocolate')
    .map(({ atMs, valueC, quality, estimateC }) => [atMs, valueC, QUALITY_CODE[quality], estimateC]);
}

/** What a page begins with where no run is going. */
export function emptySnapshot(bowl: string): ServerMessage {
  return { kind: 'snapshot', bowl, info: null, events: [], tiles: [], notes: [], readingCount: 0, recordedTo: 0 };
}
