/** What a reading costs on its way from the port's bytes into the engine, against the bare readline parser and `Number`: step by step, to see what costs. */
import { ReadlineParser } from '@serialport/parser-readline';
import { initialState, step } from '../../server/core/engine.ts';
import { recognise, recognitionOf } from '../../server/core/reading/recognition.ts';
import type { Input } from '../../server/core/record/input.ts';
import { LineReader } from '../../server/source/line-reader.ts';
import { headerFor } from '../support/bowl.ts';
import { shipped } from '../support/shipped.ts';
import { against } from './against.ts';
import type { Figure } from './figures.ts';
import { chunksOf, linesOf, pour } from './stream.ts';

const LINES = 20_000;
/** As a quick board's lines come out of a port, several at a time. */
const CHUNK_BYTES = 64;
/** Between two lines, ms: ten a second. */
const EVERY_MS = 100;
const LEAST_UNWATCHED = 0.3;
const LEAST = 0.08;

/** What is done with each line; gives its temperature, °C, or NaN. */
type Take = (text: string, n: number) => number;

export async function measureIngest(rounds: number): Promise<readonly Figure[]> {
  const chunks = chunksOf(
    linesOf(LINES, (valueC) => valueC.toFixed(2)),
    CHUNK_BYTES,
  );
  const floor = () => summed(chunks, new ReadlineParser({ delimiter: '\r\n' }), null, Number);
  const each = 'reading';
  const ours = (take: () => Take) => () => summed(chunks, new LineReader(), parser(), take());
  return [
    ...(await against({ name: 'lines to temperatures', count: LINES, each, floor, ours: ours(recognising) }, rounds)),
    ...(await against(
      {
        name: '… into an engine before a run: no watch, no forecast',
        count: LINES,
        each,
        floor,
        ours: ours(() => stepping(null)),
        least: LEAST_UNWATCHED,
      },
      rounds,
    )),
    ...(await against(
      {
        name: '… into one that watches and forecasts',
        count: LINES,
        each,
        floor,
        ours: ours(() => stepping('work')),
        least: LEAST,
      },
      rounds,
    )),
  ];
}

/** As `server/source/serial-port.ts` has it. */
function parser(): ReadlineParser {
  return new ReadlineParser({ encoding: 'latin1', readableObjectMode: true });
}

async function summed(
  chunks: readonly Buffer[],
  first: ReadlineParser | LineReader,
  second: ReadlineParser | null,
  take: Take,
): Promise<number> {
  const last = second === null ? first : first.pipe(second);
  let sum = 0;
  let n = 0;
  last.on('data', (text: string) => {
    sum += take(text, n++);
  });
  await pour(chunks, first, last);
  return sum;
}

function recognising(): Take {
  const header = headerFor(shipped('dark'));
  let recognition = recognitionOf(header.format);
  return (text, n) => {
    const found = recognise(recognition, text, n * EVERY_MS, header);
    recognition = found.recognition;
    return found.reading.ok ? (found.reading.channels[0]?.valueC ?? NaN) : NaN;
  };
}

/** `phase`: the one that the run begins at; null: it is not begun, so that nothing is watched or foretold. */
function stepping(phase: string | null): Take {
  let state = initialState(headerFor(shipped('dark')));
  const feed = (input: Input) => {
    const output = step(state, input);
    state = output.state;
    return output.readings;
  };
  if (phase !== null) feed({ kind: 'command', atMs: 0, source: 'person', command: { name: 'start', phase } });
  return (text, n) => feed({ kind: 'line', atMs: n * EVERY_MS, source: 'made up', text })[0]?.valueC ?? NaN;
}
