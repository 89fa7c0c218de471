/** Random bytes over the data file, at rest and while it is in use: found out, kept aside, and every run that they left whole is saved. */
import {
  closeSync,
  mkdirSync,
  openSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  writeFileSync,
  writeSync,
} from 'node:fs';
import { dirname, join } from 'node:path';
import { isDeepStrictEqual } from 'node:util';
import { chance, type Chance } from '../../server/source/kitchen/chance.ts';
import { readyDataFile } from '../../server/store/datafile.ts';
import { Reader } from '../../server/store/reader.ts';
import { extended, NO_TILES } from '../../server/store/tiles.ts';
import { openStore } from '../../server/store/store.ts';
import { allRuns, BUILT_WRITER, folderWithRuns, freshFolder, madeTurns, newRun } from '../support/store.ts';
import { within, type Bounds, type Row } from './rows.ts';

const NAMES = ['r1', 'r2', 'r3', 'r4'];
const TURNS = 250;
/** From a few bytes to a whole page of the file and more. */
const LEAST_BYTES = 8;
const MOST_BYTES = 8192;

/** What is there of the runs that were recorded. */
interface Found {
  readonly whole: readonly string[];
  /** Read without complaint, and not what was recorded. */
  readonly altered: readonly string[];
  /** Listed, and whoever opens it is told that it is damaged. */
  readonly unreadable: readonly string[];
}

const INPUTS = madeTurns(TURNS).map((turn) => turn.input);
const EVENTS = madeTurns(TURNS).flatMap((turn) => turn.events);
const MOST_TILES = 1_000;
const TILES = extended(
  NO_TILES,
  madeTurns(TURNS).flatMap((turn) => turn.readings),
  MOST_TILES,
).tiles;
const READINGS = madeTurns(TURNS).flatMap((turn) => turn.readings);

export async function damageAtRest(bounds: Bounds): Promise<Row[]> {
  const luck = chance(bounds.seed);
  const source = readFileSync(join(await folderWithRuns(NAMES, TURNS), 'bowlside.sqlite'));
  const file = join(freshFolder(), 'damaged', 'bowlside.sqlite');
  const sums = noSums();
  for (const _ of within(bounds)) {
    const damaged = Buffer.from(source);
    const [at, bytes] = anywhere(damaged.length, luck);
    bytes.copy(damaged, at);
    rmSync(dirname(file), { recursive: true, force: true });
    mkdirSync(dirname(file), { recursive: true });
    writeFileSync(file, damaged);
    // What could be read of it as it lies there, without any salvage.
    const readable = foundIn(file);
    const ready = readyDataFile(file, Date.now());
    judge(sums, readable, ready.ok ? foundIn(file) : null, ready.ok ? ready.notices : [], file, damaged);
  }
  return rowsOf(sums);
}

/** The file is hit while a server records into it; it goes on as well as it can, and the next start sets it right. */
export async function damageInUse(bounds: Bounds): Promise<Row[]> {
  const luck = chance(bounds.seed);
  const source = readFileSync(join(await folderWithRuns(NAMES, TURNS), 'bowlside.sqlite'));
  const sums = noSums();
  for (const _ of within(bounds)) {
    const folder = freshFolder();
    const file = join(folder, 'bowlside.sqlite');
    writeFileSync(file, source);
    const opened = openStore(folder, { writerScript: BUILT_WRITER });
    if (!opened.ok) throw new Error(opened.message);
    const { store } = opened;
    store.beginRun(newRun('r5'));
    for (const turn of madeTurns(50)) store.append('r5', turn);
    await store.flush();
    const [at, bytes] = anywhere(statSync(file).size, luck);
    const handle = openSync(file, 'r+');
    writeSync(handle, bytes, 0, bytes.length, at);
    closeSync(handle);
    for (const turn of madeTurns(100).slice(50)) store.append('r5', turn);
    // It may be refused by now; then it is told, and tried again.
    await store.flush().catch(() => {});
    if (store.health().recording === false) sums.told++;
    await store.close();
    const damaged = readFileSync(file);
    const readable = foundIn(file);
    const ready = readyDataFile(file, Date.now());
    judge(sums, readable, ready.ok ? foundIn(file) : null, ready.ok ? ready.notices : [], file, damaged);
  }
  return [...rowsOf(sums), { name: 'told while it was in use', unit: '', value: sums.told }];
}

function noSums() {
  return {
    hits: 0,
    detected: 0,
    harmless: 0,
    toldLate: 0,
    silent: 0,
    emptied: 0,
    notKept: 0,
    wholeBefore: 0,
    notSaved: 0,
    unopened: 0,
    told: 0,
  };
}

function judge(
  sums: ReturnType<typeof noSums>,
  readable: Found,
  found: Found | null,
  notices: readonly string[],
  file: string,
  damaged: Buffer,
): void {
  const before = { ...sums };
  sums.hits++;
  if (found === null) {
    sums.unopened++;
    return;
  }
  const { whole, altered, unreadable } = found;
  if (notices.length > 0) {
    sums.detected++;
    if (!isKeptAside(file, damaged)) sums.notKept++;
  } else if (whole.length === NAMES.length) sums.harmless++;
  else if (altered.length > 0) sums.silent++;
  else if (whole.length + unreadable.length < NAMES.length) sums.emptied++;
  else sums.toldLate++;
  sums.wholeBefore += readable.whole.length;
  sums.notSaved += readable.whole.filter((run) => !found.whole.includes(run)).length;
  const { emptied, silent, toldLate, notSaved, notKept } = sums;
  const isNew =
    emptied + silent + toldLate + notSaved + notKept >
    before.emptied + before.silent + before.toldLate + before.notSaved + before.notKept;
  if (isNew)
    console.log(
      `hit ${before.hits}: before ${JSON.stringify(readable)}, after ${JSON.stringify(found)}, ${JSON.stringify(notices)}`,
    );
}

function rowsOf(sums: ReturnType<typeof noSums>): Row[] {
  return [
    { name: 'hits', unit: '', value: sums.hits },
    { name: 'detected, and said', unit: '', value: sums.detected },
    { name: 'without effect on any run', unit: '', value: sums.harmless },
    { name: 'told only when the run is opened', unit: '', value: sums.toldLate, most: 0 },
    { name: 'a run altered, and nothing said', unit: '', value: sums.silent, most: 0 },
    { name: 'a run gone, and nothing said', unit: '', value: sums.emptied, most: 0 },
    { name: 'damaged file not kept as it was', unit: '', value: sums.notKept, most: 0 },
    { name: 'starts refused', unit: '', value: sums.unopened, most: 0 },
    { name: 'runs that could still be read before', unit: '', value: sums.wholeBefore },
    { name: 'of these not there afterwards', unit: '', value: sums.notSaved, most: 0 },
  ];
}

function anywhere(length: number, luck: Chance): readonly [at: number, bytes: Buffer] {
  const count = Math.floor(luck.logBetween(LEAST_BYTES, MOST_BYTES));
  const at = Math.floor(luck.between(0, Math.max(1, length - count)));
  return [at, Buffer.from(Array.from({ length: count }, () => Math.floor(luck.between(0, 256))))];
}

/** Every run of which a reader gets exactly what was recorded. A run that cannot be read is not silently another: whoever opens it is told. */
function foundIn(file: string): Found {
  const [whole, altered, unreadable]: [string[], string[], string[]] = [[], [], []];
  try {
    const reader = new Reader(file);
    try {
      const listed = new Set(allRuns(reader).map(({ run }) => run));
      for (const run of NAMES) {
        if (!listed.has(run)) continue;
        const content = contentOf(reader, run);
        if (content === null) {
          unreadable.push(run);
          continue;
        }
        const isWhole =
          isDeepStrictEqual(content.header, newRun(run).header) &&
          isDeepStrictEqual(content.tiles, TILES) &&
          isDeepStrictEqual(content.inputs, INPUTS) &&
          isDeepStrictEqual(content.events, EVENTS) &&
          isDeepStrictEqual(content.readings, READINGS);
        (isWhole ? whole : altered).push(run);
      }
    } finally {
      reader.close();
    }
  } catch {
    // Not even the list can be read.
  }
  return { whole, altered, unreadable };
}

function contentOf(reader: Reader, run: string) {
  try {
    const { events, header } = reader.storedRun(run)!;
    const tiles = reader.tiles(run, MOST_TILES);
    return { inputs: reader.inputs(run, 0), events, header, tiles, readings: reader.readings(run) };
  } catch {
    return null;
  }
}

function isKeptAside(file: string, damaged: Buffer): boolean {
  const folder = dirname(file);
  const aside = readdirSync(folder).find((name) => name.startsWith('bowlside-damaged-') && name.endsWith('.sqlite'));
  return aside !== undefined && readFileSync(join(folder, aside)).equals(damaged);
}
