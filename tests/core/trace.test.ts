/** Runs as text: what is written is read back exactly, and what is wrong with a file is said exactly. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { crc32 } from '../../server/core/record/checksum.ts';
import type { RunEvent } from '../../server/core/record/event.ts';
import type { RecordedInput } from '../../server/core/record/input.ts';
import type { Profile } from '../../server/core/record/profile.ts';
import {
  decodeRunFile,
  encodeLines,
  encodeRunFile,
  MAX_DEPTH,
  MAX_LINE_CHARS,
  type RunFile,
} from '../../server/core/record/trace.ts';
import { headerFor } from '../support/bowl.ts';
import { ICE_POINT } from '../support/checked.ts';

const SEED = 20_261_125;

const profile: Profile = {
  id: 'ginger-dark',
  title: 'Dark for the ginger, 60 % “Ana’s”',
  coating: 'dark',
  source: 'made up for this test',
  phases: [
    { id: 'melt', heading: 'up', bandC: [45, 48], ceilingC: 50 },
    { id: 'cool', heading: 'down', bandC: [27, 28], holdS: 120 },
    { id: 'work', heading: 'hold', bandC: [31, 32], ceilingC: 32.5, lostAboveC: 33.8 },
  ],
};

const header = headerFor(profile, { condition: 'solid', probeLagS: 4.5, roles: { T2: 'bath', T1: 'chocolate' } });

const inputs: readonly RecordedInput[] = [
  { atMs: 0, source: 'serial', kind: 'link', up: true },
  { atMs: 0, source: 'person', kind: 'command', command: { name: 'choose-profile', profile, condition: 'solid' } },
  { atMs: 10, source: 'person', kind: 'command', command: { name: 'start', phase: 'melt' } },
  { atMs: 250, source: 'serial', kind: 'line', text: 'T1=31.4\u00b0C\u0000\u007f\u0085\u00ff"\\\t' },
  { atMs: 500, source: 'csv', kind: 'reading', valuesC: { chocolate: 31.25, bath: null } },
  { atMs: 900, source: 'person', kind: 'command', command: { name: 'acknowledge', alarm: 'overshoot', by: 'Jo' } },
  { atMs: 901, source: 'serial', kind: 'link', up: false, why: 'unplugged' },
  { atMs: 1000, source: 'serial', kind: 'end' },
];

const events: readonly RunEvent[] = [
  { seq: 1, atMs: 10, kind: 'run-started', profile: 'ginger-dark', condition: 'solid' },
  { seq: 2, atMs: 10, kind: 'phase-entered', phase: 'melt', from: null, by: 'hand' },
  { seq: 3, atMs: 1000, kind: 'run-ended', by: 'trace' },
];

const run: RunFile = {
  what: 'run',
  header,
  labels: { run: 'r-7', bowl: 'main', simulated: true, startedAtMs: 0, startedAtWall: '2026-11-25T09:00:00.000Z' },
  inputs,
  events,
};
const trace: RunFile = { ...run, what: 'trace', events: [] };
const log: RunFile = { ...run, what: 'log', inputs: [] };

/** The complaint about a file, as `line: reason`. */
function complaint(text: string): string {
  const decoded = decodeRunFile(text);
  if (decoded.ok) throw new Error('this file should not be readable');
  return `${decoded.line}: ${decoded.reason}`;
}

/** A trace whose second line is this one. */
function withLine(line: string): string {
  return `${encodeRunFile({ ...trace, inputs: [] })}${line}\n`;
}

function withHeader(change: Readonly<Record<string, unknown>>): string {
  const first = JSON.parse([...encodeLines(trace)][0]!) as object;
  return `${JSON.stringify({ ...first, ...change })}\n`;
}

describe('a run as text', () => {
  it.each([run, trace, log])('[F1] is read back exactly as it was written: $what', (file) => {
    const text = encodeRunFile(file);
    const decoded = decodeRunFile(text);
    expect(decoded).toEqual({ ok: true, value: file });
    expect(decoded.ok && encodeRunFile(decoded.value)).toBe(text);
  });

  it.each([
    { runs: 5, heatCourseS: 400, coldCourseS: 612.5 },
    { runs: 1, heatCourseS: null, coldCourseS: 10_000 },
    { runs: 2, heatCourseS: null, coldCourseS: 600, coastS: 61 },
    { runs: 3, heatCourseS: 500, coldCourseS: 600, coastS: null },
  ])('[F1] says what earlier runs taught of the bowl, before the profile: $runs', (learned) => {
    const file: RunFile = { ...run, header: { ...header, learned } };
    const text = encodeRunFile(file);
    expect(text.split('\n')[0]).toContain(`"decimalComma":null,"learned":${JSON.stringify(learned)},"profile":`);
    const decoded = decodeRunFile(text);
    expect(decoded).toEqual({ ok: true, value: file });
    expect(decoded.ok && encodeRunFile(decoded.value)).toBe(text);
  });

  it('[F1] says what the numbers of its lines are, and how its probe was checked', () => {
    const check = { checkedAtWall: '2026-11-26T09:00:00.000Z', points: [ICE_POINT] };
    const cold = { from: 'channel', channel: 'amb' } as const;
    const sensors = { tc: { kind: 'thermocouple', unit: 'mV', type: 'K', cold }, '1': { kind: 'printed' } } as const;
    const file: RunFile = { ...run, header: { ...header, check, sensors } };
    const decoded = decodeRunFile(encodeRunFile(file));
    expect(decoded).toEqual({ ok: true, value: file });
  });

  it('[F1] says nothing of it where nothing is known, and brings no such key back', () => {
    const decoded = decodeRunFile(encodeRunFile(run));
    expect(encodeRunFile(run)).not.toContain('learned');
    expect(decoded.ok && Object.hasOwn(decoded.value.header, 'learned')).toBe(false);
  });

  it('[F2] is the same text whatever the order in which its objects were put together', () => {
    const backwards = (value: unknown): unknown => {
      if (Array.isArray(value)) return value.map(backwards);
      if (typeof value !== 'object' || value === null) return value;
      return Object.fromEntries(
        Object.entries(value)
          .toReversed()
          .map(([key, entry]) => [key, backwards(entry)]),
      );
    };
    expect(encodeRunFile(backwards(run) as RunFile)).toBe(encodeRunFile(run));
  });

  it('[F3] keeps every byte of a raw line, each as one character', () => {
    const text = Array.from({ length: 256 }, (_, byte) => String.fromCharCode(byte)).join('');
    const file: RunFile = { ...trace, inputs: [{ atMs: 1, source: 'serial', kind: 'line', text }] };
    const decoded = decodeRunFile(encodeRunFile(file));
    expect(decoded.ok && decoded.value.inputs[0]).toEqual({ atMs: 1, source: 'serial', kind: 'line', text });
  });

  it('holds one JSON object a line, the first of which says what it is', () => {
    const lines = encodeRunFile(run).trimEnd().split('\n');
    expect(lines).toHaveLength(1 + inputs.length + events.length + 1);
    expect(lines[0]).toMatch(/^\{"bowlside":1,"what":"run",/);
    expect(lines.at(-1)).toMatch(/^\{"checksum":"crc32:[0-9a-f]{8}","inputs":8,"events":3\}$/);
  });

  it('is read with CRLF line ends and a byte-order mark all the same', () => {
    const windows = `\uFEFF${encodeRunFile(run).replaceAll('\n', '\r\n')}`;
    expect(decodeRunFile(windows)).toEqual({ ok: true, value: run });
  });

  it('survives any text in any of its lines', () => {
    const anyInput = fc.record<RecordedInput & { kind: 'line' }>({
      atMs: fc.constant(5),
      source: fc.string({ unit: 'binary' }),
      kind: fc.constant('line'),
      text: fc
        .array(fc.integer({ min: 0, max: 255 }))
        .map((codes) => codes.map((code) => String.fromCharCode(code)).join('')),
    });
    fc.assert(
      fc.property(fc.array(anyInput), (lines) => {
        const file: RunFile = { ...run, inputs: lines };
        expect(decodeRunFile(encodeRunFile(file))).toEqual({ ok: true, value: file });
      }),
      { seed: SEED },
    );
  });
});

describe('a file that is not as it should be', () => {
  it('is refused when it is empty, or is something else altogether', () => {
    expect(complaint('')).toBe('0: the file is empty');
    expect(complaint('hello\n')).toBe('1: the line is "hello": a JSON object is wanted');
    expect(complaint('[1]\n')).toBe('1: the line is a list: a JSON object is wanted');
    expect(complaint('{}\n')).toBe('1: bowlside is missing: 1 is wanted');
  });

  it('[F4] is refused for a header that lacks what the engine depends on, naming key, value and rule', () => {
    expect(complaint(withHeader({ bowlside: 2 }))).toBe('1: bowlside is 2: 1 is wanted');
    expect(complaint(withHeader({ what: 'film' }))).toBe('1: what is "film": one of trace, log, run is wanted');
    expect(complaint(withHeader({ probeLagS: '4' }))).toBe('1: probeLagS is "4": a number is wanted, or null');
    expect(complaint(withHeader({ correction: { offsetC: 1 } }))).toBe(
      '1: correction.gain is missing: a number is wanted',
    );
    expect(complaint(withHeader({ roles: { T1: 'soup' } }))).toBe(
      '1: roles.T1 is "soup": one of chocolate, bath, room, ignored is wanted',
    );
    expect(complaint(withHeader({ colour: 'red' }))).toBe('1: colour is "red": there is no such key');
  });

  it('[F4] is refused for something learned that no bowl could teach, naming key, value and rule', () => {
    const learned = { runs: 3, heatCourseS: 400, coldCourseS: null };
    const bounds = 'a number from 30 to 10000 is wanted, or null';
    expect(complaint(withHeader({ learned: { ...learned, runs: 0 } }))).toBe(
      '1: learned.runs is 0: a whole number from 1 is wanted',
    );
    expect(complaint(withHeader({ learned: { ...learned, heatCourseS: 29.9 } }))).toBe(
      `1: learned.heatCourseS is 29.9: ${bounds}`,
    );
    expect(complaint(withHeader({ learned: { ...learned, coldCourseS: 10_001 } }))).toBe(
      `1: learned.coldCourseS is 10001: ${bounds}`,
    );
    expect(complaint(withHeader({ learned: { ...learned, coastS: 4 } }))).toBe(
      '1: learned.coastS is 4: a number from 5 to 1000 is wanted, or null',
    );
    expect(complaint(withHeader({ learned: { ...learned, coldCourseS: '40' } }))).toBe(
      `1: learned.coldCourseS is "40": ${bounds}`,
    );
    expect(complaint(withHeader({ learned: { ...learned, coldCourseS: undefined } }))).toBe(
      `1: learned.coldCourseS is missing: ${bounds}`,
    );
    expect(complaint(withHeader({ learned: { ...learned, stirS: 40 } }))).toBe(
      '1: learned.stirS is 40: there is no such key',
    );
    expect(complaint(withHeader({ learned: null }))).toBe('1: learned is null: an object is wanted');
  });

  it("is refused for a bad profile with the profile's own complaint", () => {
    const broken = { ...profile, phases: [{ id: 'melt', heading: 'up', bandC: [48, 45] }] };
    expect(complaint(withHeader({ profile: broken }))).toMatch(/^1: profile\.phases\.melt\.bandC is \[48,45\]: /);
  });

  it('[F4] is refused for an input that is none, at its line', () => {
    expect(complaint(withLine('{"atMs":1.5,"source":"x","kind":"end"}'))).toBe(
      '2: atMs is 1.5: a whole number is wanted',
    );
    expect(complaint(withLine('{"atMs":1,"source":"x","kind":"tick"}'))).toBe(
      '2: kind is "tick": one of line, reading, link, command, end is wanted',
    );
    expect(complaint(withLine('{"atMs":1,"source":"x","kind":"line","text":"31 ☃"}'))).toMatch(/^2: text is "31 ☃": /);
    expect(complaint(withLine('{"atMs":1,"source":"x","kind":"reading","valuesC":{"chocolate":1e999}}'))).toBe(
      '2: valuesC.chocolate is Infinity: a number is wanted, or null',
    );
    expect(complaint(withLine('{"atMs":1,"source":"x","kind":"command","command":{"name":"dance"}}'))).toMatch(
      /^2: command\.name is "dance": one of /,
    );
    expect(complaint(withLine(''))).toBe('2: the line is "": a JSON object is wanted');
  });

  it('[F4] is refused when time goes back', () => {
    const lines = [20, 10].map((atMs) => JSON.stringify({ atMs, source: 'x', kind: 'end' })).join('\n');
    expect(complaint(withLine(lines))).toBe('3: atMs is 10: time may not go back (20 stands before it)');
  });

  it('is refused when it mixes what went in and what came out', () => {
    const event = JSON.stringify(events[0]);
    const input = JSON.stringify(inputs[0]);
    expect(complaint(withLine(event))).toBe('2: an event has no place in a trace');
    expect(complaint(`${encodeRunFile(log)}${input}\n`)).toBe('5: an input has no place in a log');
    const [first] = encodeLines(run);
    expect(complaint(`${first}${event}\n${input}\n`)).toBe('3: inputs stand before the events');
  });

  it('is refused when an event is missing', () => {
    const holed = { ...log, events: [events[0]!, events[2]!] };
    expect(complaint(encodeRunFile(holed))).toBe('3: seq is 3: events are numbered without holes, 2 comes next');
  });

  it('[F5] is refused when a single character of a run was changed, or its end is cut off', () => {
    const text = encodeRunFile(run);
    expect(complaint(text.replace('31.25', '31.26'))).toMatch(/^13: the checksum does not fit what stands before it/);
    const lines = text.split('\n');
    expect(complaint(lines.slice(0, -2).join('\n'))).toBe('12: the checksum line is missing: the file is cut short');
    expect(complaint(`${text}${lines[1]}\n`)).toBe('14: nothing may follow the checksum line');
  });

  it('never brings a key that reaches into a prototype', () => {
    const first = [...encodeLines(trace)][0]!;
    expect(complaint(first.replace('"roles":{', '"roles":{"__proto__":"bath",'))).toBe(
      '1: roles.__proto__ is "bath": there is no such key',
    );
    expect(complaint(withLine('{"atMs":1,"source":"x","kind":"end","__proto__":{"polluted":true}}'))).toBe(
      '2: __proto__ is an object: there is no such key',
    );
    expect(complaint(withLine('{"atMs":1,"source":"x","kind":"constructor"}'))).toMatch(/^2: kind is "constructor": /);
    expect(({} as { polluted?: true }).polluted).toBeUndefined();
  });

  it('is refused before anything is built from a line too long or too deep', () => {
    expect(complaint(withLine(' '.repeat(MAX_LINE_CHARS + 1)))).toBe(
      `2: the line is longer than ${MAX_LINE_CHARS} characters`,
    );
    expect(complaint(withLine(`{"x":${'['.repeat(100_000)}`))).toBe(`2: nested deeper than ${MAX_DEPTH}`);
    const brackets = { atMs: 1, source: 'serial', kind: 'line', text: '[[[[[[[[[[{{{{{{{{{{"\\"' };
    expect(decodeRunFile(withLine(JSON.stringify(brackets))).ok).toBe(true);
  });

  it('shows a wrong value shortened, on one line', () => {
    const reason = complaint(withLine(JSON.stringify({ atMs: 'x\n'.repeat(500), source: 'x', kind: 'end' })));
    expect(reason.length).toBeLessThan(120);
    expect(reason).not.toContain('\n');
  });

  it('[F8] is refused and never throws, whatever is written over a part of it', () => {
    const text = encodeRunFile(run);
    fc.assert(
      fc.property(fc.nat(text.length), fc.nat(60), fc.string({ unit: 'binary' }), (at, length, junk) => {
        const damaged = text.slice(0, at) + junk + text.slice(at + length);
        const decoded = decodeRunFile(damaged);
        if (decoded.ok) expect(encodeRunFile(decoded.value)).toBe(text);
      }),
      { seed: SEED, numRuns: 500 },
    );
  });
});

describe('the checksum', () => {
  it('[F5] is the CRC-32 of zip and PNG: the published check value of "123456789" is cbf43926', () => {
    expect(crc32('123456789').toString(16)).toBe('cbf43926');
  });

  it('of two pieces one after the other is that of both together', () => {
    expect(crc32('bowl', crc32('choc🍫'))).toBe(crc32('choc🍫bowl'));
  });
});
