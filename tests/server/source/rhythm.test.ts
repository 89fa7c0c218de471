/** How the rhythm of a thermometer is learned. */
import { expect, test } from 'vitest';
import { Rhythm } from '../../../server/source/rhythm.ts';

function spoken(...atMs: number[]): Rhythm {
  const rhythm = new Rhythm();
  for (const at of atMs) rhythm.line(at);
  return rhythm;
}

test('nothing is known before the second line', () => {
  expect(spoken().medianMs()).toBe(0);
  expect(spoken(500).medianMs()).toBe(0);
  expect(spoken(500, 1500).medianMs()).toBe(1000);
});

test('a long pause among regular lines does not change the rhythm', () => {
  expect(spoken(0, 1000, 2000, 602_000, 603_000).medianMs()).toBe(1000);
});

test('the time between unplug and replug is no interval', () => {
  const rhythm = spoken(0, 1000);
  rhythm.interrupted();
  rhythm.line(900_000);
  expect(rhythm.medianMs()).toBe(1000);
});

test('a thermometer set to another pace is learned anew', () => {
  const rhythm = spoken(...Array.from({ length: 100 }, (_, line) => line * 100));
  for (let line = 1; line <= 31; line++) rhythm.line(9900 + line * 5000);
  expect(rhythm.medianMs()).toBe(5000);
});
