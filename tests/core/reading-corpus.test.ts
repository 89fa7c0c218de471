/** Streams of lines with what is meant by each, made up and kept as data: nothing else is read, and hardly anything is asked. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import type { Meant } from '../support/lines/format.ts';
import { verdictOn } from '../support/lines/judging.ts';

interface Stream {
  readonly name: string;
  /** Nothing in the lines can tell: to be asked is right. */
  readonly asks?: boolean;
  /** None of it is a temperature. */
  readonly none?: boolean;
  readonly lines: readonly (readonly [atMs: number, text: string, meant: Meant])[];
}

const STREAMS = readFileSync(join(import.meta.dirname, '../reading-corpus/streams.jsonl'), 'utf8')
  .trim()
  .split('\n')
  .map((line) => JSON.parse(line) as Stream);

/** Of the contract: lines in the corpus, and the share of formats that may be asked about. */
const LINES_LEAST = 400;
const ASKED_MOST = 0.1;
/** What is meant stands there in ten thousandths of a degree. */
const AS_KEPT_C = 6e-5;

/** A clock as slow as a bowl, a comma that does not move, and values that all stand still for seconds. */
const TAKES_LONGER = ['minutes first', 'bare, decimal comma, one decimal', 'set point first'];

const verdicts = STREAMS.map((stream) => ({
  stream,
  verdict: verdictOn(
    stream.lines.map(([atMs, text, meant]) => ({ atMs, text, meant })),
    AS_KEPT_C,
  ),
}));

describe('[R11] the corpus', () => {
  test('is large enough', () => {
    expect(STREAMS.reduce((sum, { lines }) => sum + lines.length, 0)).toBeGreaterThanOrEqual(LINES_LEAST);
  });

  test.each(verdicts)('$stream.name', ({ stream, verdict }) => {
    expect(verdict.wrong).toEqual([]);
    if (stream.none) expect(verdict.read).toBe(0);
    else if (!stream.asks) expect(verdict.asked).toBe(false);
  });

  test('is read within its few lines, but for what takes longer to tell', () => {
    const unread = verdicts.filter(({ stream, verdict }) => !stream.asks && !stream.none && verdict.read === 0);
    expect(unread.map(({ stream }) => stream.name).filter((name) => !TAKES_LONGER.includes(name))).toEqual([]);
  });

  test('is hardly ever asked about', () => {
    expect(verdicts.filter(({ verdict }) => verdict.asked).length).toBeLessThanOrEqual(ASKED_MOST * STREAMS.length);
  });
});
