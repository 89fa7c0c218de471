/** The recorded stories in fixtures/: found by reading the folder, never listed. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { ENGINE_VERSION } from '../../server/core/record/run.ts';
import { decodeRunFile, encodeRunFile, type RunFile } from '../../server/core/record/trace.ts';
import { runTrace } from '../../server/core/replay.ts';

export const FIXTURES = join(import.meta.dirname, '../../fixtures');

const TRACE_END = '.trace.jsonl';

/** Names of the stories, sorted. */
export function storyNames(): string[] {
  const names = readdirSync(FIXTURES).filter((name) => name.endsWith(TRACE_END));
  return names.map((name) => name.slice(0, -TRACE_END.length)).toSorted();
}

export function tracePath(story: string): string {
  return join(FIXTURES, story + TRACE_END);
}

export function logPath(story: string): string {
  return join(FIXTURES, `${story}.log.jsonl`);
}

/** The story's trace, or a throw that says what is wrong with the file. */
export function readTrace(story: string): RunFile {
  const decoded = decodeRunFile(readFileSync(tracePath(story), 'utf8'));
  if (!decoded.ok) throw new Error(`${tracePath(story)}, line ${decoded.line}: ${decoded.reason}`);
  return decoded.value;
}

/** Text of the log that today's engine makes of this trace. */
export function logOf(trace: RunFile): string {
  const header = { ...trace.header, engine: ENGINE_VERSION };
  return encodeRunFile({ ...trace, what: 'log', header, events: runTrace(header, trace.inputs) });
}
