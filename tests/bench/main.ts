/** Measures parts of the project by name and prints what they cost. Never passes or fails. Usage: see `USAGE`. */
import { loadavg } from 'node:os';
import { parseArgs } from 'node:util';
import { keep, tableOf, type Figure } from './figures.ts';
import { measureBroadcast } from './broadcast.ts';
import { measureByte } from './byte/byte.ts';
import { measureStart } from './byte/start.ts';
import { measureIngest } from './ingest.ts';
import { measureLibrary } from './library.ts';
import { measureLength } from './length.ts';
import { measureLines } from './lines.ts';
import { measureMemory } from './memory.ts';
import { measurePage } from './page/page.ts';
import { measureRecording } from './recording.ts';
import { measureReplay } from './replay.ts';

/** Each measures itself in so many rounds. */
const PARTS: Readonly<Record<string, (rounds: number) => Promise<readonly Figure[]>>> = {
  lines: measureLines,
  ingest: measureIngest,
  recording: measureRecording,
  broadcast: measureBroadcast,
  replay: measureReplay,
  length: measureLength,
  memory: measureMemory,
  byte: measureByte,
  start: measureStart,
  page: measurePage,
  library: measureLibrary,
};

const USAGE = `npm run bench -- [PART…] [--rounds N] [--json]
  parts (none: all): ${Object.keys(PARTS).join(', ')}   --rounds  how often each figure is measured (3)   --json  a line of JSON for each part instead of a table`;

async function main(): Promise<void> {
  const { values, positionals } = parseArgs({
    allowPositionals: true,
    options: {
      rounds: { type: 'string', default: '3' },
      json: { type: 'boolean', default: false },
      help: { type: 'boolean', default: false },
    },
  });
  const unknown = positionals.filter((part) => !(part in PARTS));
  if (values.help || unknown.length > 0 || !(Number(values.rounds) >= 1)) {
    for (const part of unknown) console.log(`There is no part "${part}".`);
    console.log(USAGE);
    return;
  }
  for (const part of positionals.length === 0 ? Object.keys(PARTS) : positionals) {
    const figures = await PARTS[part]!(Number(values.rounds));
    for (const line of values.json ? [JSON.stringify({ part, figures })] : tableOf(figures)) console.log(line);
    const load = loadavg().map((minutes) => minutes.toFixed(1));
    console.error(`load ${load.join(', ')}; kept in ${keep(part, figures)}`);
  }
}

await main();
