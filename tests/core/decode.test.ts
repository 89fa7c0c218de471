/** Messages from the socket are checked once, at the door. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { decodeServerMessage } from '../../server/core/show/decode.ts';
import { greetingAt } from '../support/scenes.ts';

describe('what is sent is understood', () => {
  test.each(greetingAt({ min: 95 }).map((message) => [message.kind, message] as const))('%s', (_, message) => {
    expect(decodeServerMessage(JSON.stringify(message))).toEqual({ ok: true, message });
  });

  test('fields of a newer server are let through', () => {
    const text = JSON.stringify({ kind: 'heartbeat', atMs: 5, mood: 'calm' });
    expect(decodeServerMessage(text).ok).toBe(true);
  });
});

describe('what is not understood is said to be so', () => {
  test.each([
    ['', 'not-json'],
    ['[1]', 'not-json'],
    ['null', 'not-json'],
    ['{"kind":7}', 'not-json'],
    ['{"kind":"weather"}', 'unknown-kind'],
    ['{"kind":"constructor"}', 'unknown-kind'],
    ['{"kind":"heartbeat"}', 'wrong-shape'],
    ['{"kind":"heartbeat","atMs":null}', 'wrong-shape'],
    ['{"kind":"news","bowl":"b","run":"r","events":[{"seq":"1"}],"readings":[],"readingCount":0}', 'wrong-shape'],
    ['{"kind":"news","bowl":"b","run":"r","events":[],"readings":[[1]],"readingCount":0}', 'wrong-shape'],
    ['{"kind":"snapshot","bowl":"b","info":{},"events":[],"tiles":[],"notes":[],"readingCount":0}', 'wrong-shape'],
  ])('%s', (text, reason) => {
    expect(decodeServerMessage(text)).toMatchObject({ ok: false, reason });
  });

  test('no text makes it throw, not even a message cut short or with a value replaced', () => {
    const texts = greetingAt({ min: 1 }).map((message) => JSON.stringify(message));
    fc.assert(
      fc.property(fc.constantFrom(...texts), fc.nat(), fc.string(), (text, at, other) => {
        const cut = at % text.length;
        decodeServerMessage(text.slice(0, cut) + other);
        decodeServerMessage(text.slice(0, cut) + other + text.slice(cut + 1));
        decodeServerMessage(other);
      }),
      { seed: 20_261_126 },
    );
  });
});
