/** A run's log read out, and the run summed up. */
import { expect, test } from 'vitest';
import { foldEvents, openView } from '../../server/core/show/view.ts';
import { logLine, lookBack } from '../../web/words/log.ts';
import type { Account } from '../../server/core/show/account.ts';
import { accountOfRun } from '../../web/run-account.ts';
import { eventsUpTo, infoOf, OPENED } from '../support/scenes.ts';

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

test.each([
  ['probe-silent', null, 'Past: no reading for 36 s.'],
  ['overshoot', 33, 'Past: over the ceiling for 36 s, furthest at 33.0.'],
] as const)('an alarm that is over is told as on the page: %s', (alarm, extremeC, text) => {
  expect(logLine({ kind: 'alarm-cleared', alarm, lastedMs: 36_000, extremeC, seq: 1, atMs: 0 })?.text).toBe(text);
});

/** The afternoon up to a minute, and how it is summed up. */
function lookedBack(min: number, changed: Partial<Account> = {}, further: readonly (typeof END)[] = [END]): string[] {
  const run = { ...OPENED, events: eventsUpTo(min, further) };
  const view = foldEvents(openView(infoOf(false)), run.events);
  const { act, detail } = lookBack(view, { ...accountOfRun(run, view), ...changed });
  return [act, detail];
}

test('a run is summed up by the worst that happened, and how often', () => {
  expect(lookedBack(118)).toEqual([
    'Over the ceiling, once.',
    'Over the 32.5 ceiling: the alarm stood for 3 min 35 s, up to 32.9.',
  ]);
});

test('an alarm that still stood when the run was ended is not forgotten', () => {
  expect(lookedBack(93)[0]).toBe('Over the ceiling, once.');
});

test('a run without alarms claims no more than that, and says what it ended as', () => {
  expect(lookedBack(80)).toEqual(['Never over, never under.', 'Ended in temper, our estimate.']);
  expect(lookedBack(80, {}, [])).toEqual(['Never over, never under.', 'In temper, our estimate.']);
  expect(lookedBack(80, { unseenS: 95 })[1]).toBe('Ended in temper, our estimate. Nothing was read for 1 min 35 s.');
});

test('nothing is claimed of bounds that it never came to, or that nobody saw it keep', () => {
  expect(lookedBack(20)).toEqual(['It never came to the work.', 'Temper was never made.']);
  expect(lookedBack(20, {}, [])).toEqual(['Not at work yet.', 'Not in temper yet.']);
  expect(lookedBack(80, { inWorkBandS: 0 })[0]).toBe('Never in the band.');
  expect(lookedBack(80, { stays: [] })[0]).toBe('Nothing was read.');
});
