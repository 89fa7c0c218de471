/** A stored run in the form in which it is handed over to be kept, replayed or brought in elsewhere. */
import type { RecordedInput } from '../core/record/input.ts';
import { encodeLines, type RunToWrite } from '../core/record/trace.ts';
import type { StoredRun } from '../store/records.ts';

/** All that went in, came out and was said, line by line. */
export function runLines(stored: StoredRun, inputs: Iterable<RecordedInput>): Generator<string> {
  return encodeLines(runFileOf(stored, inputs));
}

function runFileOf(stored: StoredRun, inputs: Iterable<RecordedInput>): RunToWrite {
  const { run, bowl, source, simulated, startedAtMs, startedAtWall, header, events, notes, card } = stored;
  const labels = { run, bowl, source, simulated, startedAtMs, startedAtWall };
  return { what: 'run', header, labels, inputs, events, notes, card };
}
