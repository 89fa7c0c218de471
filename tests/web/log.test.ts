/** A run's log read out, and the run summed up. */
import { expect, test } from 'vitest';
import { foldEvents, openView } from '../../server/core/show/view.ts';
import { logLine, lookBack } from '../../web/words/log.ts';
import { eventsUpTo, infoOf } from '../support/scenes.ts';

const END = { kind: 'run-ended', by: 'hand' } as const;

test('every event of the afternoon has a line, in its order, in words without names of the trade’s wiring', () => {
  const lines = eventsUpTo(118, [END]).map(logLine);
  expect(lines.every((line) => line !== null && line.text.length > 0)).toBe(true);
  expect(lines.map((line) => line?.text).join(' ')).not.toMatch(/undefined|null|NaN|[a-z]-[a-z]+-/);
});

test('what a person did is in the person’s voice', () => {
  const voices = eventsUpTo(15).map((event) => [event.kind, logLine(event)?.voice]);
  expect(voices).toContainEqual(['act', 'person']);
  expect(voices).toContainEqual(['phase-entered', 'tool']);
});

test('nobody is said to have begun a run by hand that began by itself; a step by hand is', () => {
  const entered = eventsUpTo(118, [END]).flatMap((event) => (event.kind === 'phase-entered' ? [event] : []));
  expect(logLine({ ...entered[0]!, by: 'hand' })?.text).toBe('Melt.');
  expect(logLine({ ...entered[1]!, by: 'hand' })?.text).toBe('Cool, by hand.');
});

test.each([
  [15, 'Said: off the heat in 15 s, it would end at 31.6.'],
  [0, 'Said: off the heat now, it would end at 31.6.'],
])('a cue says when, and only once: %d s', (inS, text) => {
  expect(logLine({ kind: 'cue', cue: 'off-heat', phase: 'rewarm', inS, landsC: 31.6, seq: 1, atMs: 0 })?.text).toBe(
    text,
  );
});

test('a run is summed up by the worst that happened, and how often', () => {
  const view = foldEvents(openView(infoOf(false)), eventsUpTo(118, [END]));
  expect(lookBack(view)).toEqual({
    act: 'Over the ceiling, once.',
    detail: 'Over the 32.5 ceiling: the alarm stood for 3 min 35 s, up to 32.9.',
  });
});

test('an alarm that still stood when the run was ended is not forgotten', () => {
  const view = foldEvents(openView(infoOf(false)), eventsUpTo(93, [END]));
  expect(lookBack(view).act).toBe('Over the ceiling, once.');
});

test('a run without alarms claims no more than that', () => {
  const view = foldEvents(openView(infoOf(false)), eventsUpTo(80, [END]));
  expect(lookBack(view)).toEqual({ act: 'Never over, never under.', detail: 'In temper, our estimate.' });
});
