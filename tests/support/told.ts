/** Recorded stories as runs that are told on paper, with notes and a card as a two-person workshop would write them. */
import { initialState, step } from '../../server/core/engine.ts';
import type { CardEntry } from '../../server/core/record/card.ts';
import type { RunEvent } from '../../server/core/record/event.ts';
import type { Reading } from '../../server/core/record/run.ts';
import type { RunFile } from '../../server/core/record/trace.ts';
import type { NoteInfo, Tile } from '../../server/core/show/wire.ts';
import { type ToldRun, toldRun } from '../../server/handover/told-run.ts';
import { FINEST_SPAN_MS, tilesOfReadings } from '../../server/store/tiles.ts';
import { readTrace } from './fixtures.ts';

export const WALL = '2026-11-24T13:40:00.000Z';

/** `min`: minutes into the run. */
export function notesAt(startedAtMs: number, ...notes: readonly (readonly [min: number, text: string])[]): NoteInfo[] {
  return notes.map(([min, text], at) => ({
    id: `n-${at}`,
    atMs: startedAtMs + min * 60_000,
    text,
    by: at % 2 === 0 ? null : 'Ana',
    writtenAtWall: WALL,
  }));
}

export const CARD: CardEntry = {
  writtenAtWall: WALL,
  by: 'Ana',
  change: {
    name: 'Candied ginger, third batch',
    centre: 'candied ginger',
    lot: 'G-117',
    kg: 2.5,
    allergens: 'milk, soy',
    roomC: 19.5,
    roomHumidity: 48,
    signedBy: 'Ana',
  },
};

interface Played {
  readonly file: RunFile;
  readonly events: readonly RunEvent[];
  readonly tiles: readonly Tile[];
}

/** By story: the same whatever is said of it. */
const played = new Map<string, Played>();

function playedStory(story: string): Played {
  const before = played.get(story);
  if (before !== undefined) return before;
  const file = readTrace(story);
  const events: RunEvent[] = [];
  const readings: Reading[] = [];
  let state = initialState(file.header);
  for (const input of file.inputs) {
    const turn = step(state, input);
    state = turn.state;
    events.push(...turn.events);
    readings.push(...turn.readings);
  }
  const now = { file, events, tiles: tilesOfReadings(readings, FINEST_SPAN_MS) };
  played.set(story, now);
  return now;
}

export function toldStory(
  story: string,
  notes: readonly (readonly [min: number, text: string])[] = [],
  card: readonly CardEntry[] = [CARD],
): ToldRun {
  const { file, events, tiles } = playedStory(story);
  const { header, inputs } = file;
  const startedAtMs = inputs[0]!.atMs;
  const run = {
    run: story,
    bowl: 'bowl-1',
    header,
    simulated: false,
    startedAtMs,
    startedAtWall: WALL,
    source: 'test',
  };
  const stored = {
    ...run,
    turns: inputs.length,
    endedAtMs: inputs.at(-1)!.atMs,
    lost: [],
    events,
    binnedAtWall: null,
    importedAtWall: null,
  };
  return toldRun({ ...stored, notes: notesAt(startedAtMs, ...notes), card }, tiles);
}
