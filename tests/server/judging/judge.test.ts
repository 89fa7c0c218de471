/** A trace judged again, as a pure function: what a second log is, and where it parts from the first. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { decodeRunFile } from '../../../server/core/record/trace.ts';
import { runTrace } from '../../../server/core/replay.ts';
import { ENGINE_VERSION } from '../../../server/core/record/run.ts';
import { differsFrom, judgeAgain } from '../../../server/judging/judge.ts';
import { under } from '../../../server/judging/under.ts';
import { shipped } from '../../support/shipped.ts';

function story(name: string) {
  const file = decodeRunFile(
    readFileSync(join(import.meta.dirname, '../../../fixtures', `${name}.trace.jsonl`), 'utf8'),
  );
  if (!file.ok) throw new Error(file.reason);
  return file.value;
}

const { header, inputs } = story('clean-dark');

describe('a second log', () => {
  test('is the log a replay gives, with the curve of its estimates and what the list says of a run', () => {
    const strides: number[] = [];
    const second = judgeAgain(header, inputs, (taken) => strides.push(taken));
    expect(second.events).toEqual(runTrace(header, inputs));
    expect(second.inputs).toBe(inputs.length);
    expect(strides.length).toBe(Math.floor(inputs.length / 2_000));
    expect(second.tally.standing).toBe('in-temper');
    expect(second.tally.visits.map(({ phase }) => phase)).toEqual(['melt', 'cool', 'rewarm', 'work']);
    expect(second.tiles.length).toBeGreaterThan(100);
    expect(second.tiles.length).toBeLessThanOrEqual(2_400);
    expect(second.tiles.at(-1)![3]).toBeCloseTo(31.5, 0);
  });

  test('under another profile follows its phases', () => {
    const milk = shipped('milk');
    const asMilk = inputs.map((input) => under(milk, input));
    const second = judgeAgain({ ...header, engine: ENGINE_VERSION, profile: milk }, asMilk);
    expect(second.events.find(({ kind }) => kind === 'run-started')).toMatchObject({ profile: 'milk' });
    expect(differsFrom(runTrace(header, inputs), second.events)).toBe(2);
  });

  test('a start at a phase that another profile does not have is one at its first', () => {
    const one = { ...shipped('dark'), phases: [{ id: 'only', heading: 'hold', bandC: [31, 32] }] } as const;
    const start = { atMs: 0, source: 'person', kind: 'command', command: { name: 'start', phase: 'melt' } } as const;
    expect(under(one, start)).toMatchObject({ command: { phase: 'only' } });
    expect(under(shipped('milk'), start)).toBe(start);
  });
});

describe('where two logs part', () => {
  const log = runTrace(header, inputs);

  test('nowhere, where they are the same', () => {
    expect(differsFrom(log, structuredClone(log))).toBeNull();
    expect(differsFrom([], [])).toBeNull();
  });

  test('at the first event that says something else, or that only one of them has', () => {
    const changed = log.with(3, { ...log[3]!, atMs: log[3]!.atMs + 1 });
    expect(differsFrom(log, changed)).toBe(4);
    expect(differsFrom(log, log.slice(0, -1))).toBe(log.length);
    expect(differsFrom(log.slice(0, 2), log)).toBe(3);
  });
});
