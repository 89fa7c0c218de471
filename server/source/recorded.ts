/**
 * A recorded run from a file: `.csv` or `.jsonl` into what the engine depends on and what went in. It comes whole and at once,
 * with the times it was recorded at. Knows nothing of the engine and of where files are kept.
 */
import { createReadStream } from 'node:fs';
import { extname } from 'node:path';
import { decodeCsv } from '../core/record/csv.ts';
import type { Profile } from '../core/record/profile.ts';
import { ENGINE_VERSION, NO_CORRECTION, type RunHeader } from '../core/record/run.ts';
import { decodeRunFile, type RunFile } from '../core/record/trace.ts';

/** Largest file read, bytes (ours): a week of ten readings a second fits, and it has to fit in memory. */
const MAX_FILE_BYTES = 256 * 1024 * 1024;

/** `reason` is one line: the file, the line in it where there is one, and what is wrong with it. */
export type Recorded = { readonly ok: true; readonly value: RunFile } | { readonly ok: false; readonly reason: string };

/**
 * Reads a trace, a log or a run. `profile` is what a table of temperatures is judged under; a JSONL file brings its own, and
 * `profile` is not looked at.
 */
export async function readRecorded(path: string, profile: Profile | null): Promise<Recorded> {
  const extension = extname(path).toLowerCase();
  if (extension !== '.csv' && extension !== '.jsonl') return refuse(path, 0, 'neither a .csv nor a .jsonl file');
  const text = await readText(path);
  if (!text.ok) return refuse(path, 0, text.reason);
  if (extension === '.csv' && profile === null) {
    return refuse(path, 0, 'a table of temperatures needs --profile to be judged under');
  }
  const decoded =
    profile !== null && extension === '.csv' ? tableAsRun(text.value, profile) : decodeRunFile(text.value);
  return decoded.ok ? decoded : refuse(path, decoded.line, decoded.reason);
}

function refuse(path: string, line: number, reason: string): Recorded {
  const place = line === 0 ? path : `${path}, line ${line}`;
  return { ok: false, reason: `${place}: ${reason}` };
}

function tableAsRun(table: string, profile: Profile): ReturnType<typeof decodeRunFile> {
  const inputs = decodeCsv(table, profile.phases[0]!.id);
  if (!inputs.ok) return inputs;
  return {
    ok: true,
    value: { what: 'trace', header: headerOf(profile), labels: {}, inputs: inputs.value, events: [] },
  };
}

/** All that a table does not say: nobody answered anything. */
export function headerOf(profile: Profile): RunHeader {
  return {
    engine: ENGINE_VERSION,
    profile,
    condition: null,
    probeLagS: null,
    correction: NO_CORRECTION,
    roles: {},
    decimalComma: null,
  };
}

type Text = { readonly ok: true; readonly value: string } | { readonly ok: false; readonly reason: string };

async function readText(path: string): Promise<Text> {
  try {
    const bytes = await readBytes(path);
    if (bytes === null) return { ok: false, reason: `larger than ${MAX_FILE_BYTES} bytes` };
    return { ok: true, value: new TextDecoder('utf-8', { fatal: true }).decode(bytes) };
  } catch (error) {
    return { ok: false, reason: whyUnreadable(error as NodeJS.ErrnoException) };
  }
}

/** null where there are too many: devices and pipes have no size to ask for beforehand. */
async function readBytes(path: string): Promise<Buffer | null> {
  const chunks: Buffer[] = [];
  let size = 0;
  for await (const chunk of createReadStream(path) as AsyncIterable<Buffer>) {
    size += chunk.length;
    if (size > MAX_FILE_BYTES) return null;
    chunks.push(chunk);
  }
  return Buffer.concat(chunks);
}

function whyUnreadable(error: NodeJS.ErrnoException): string {
  switch (error.code) {
    case 'ENOENT':
      return 'there is no such file';
    case 'EISDIR':
      return 'is a folder';
    case 'EACCES':
      return 'may not be read by this user';
    case 'ERR_ENCODING_INVALID_ENCODED_DATA':
      return 'not UTF-8 text';
    default:
      return `cannot be read: ${error.message}`;
  }
}
