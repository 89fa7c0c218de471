/** A tab that the browser put to sleep while the bowl went on: what it says when it wakes, and what it makes of what it missed. */
import type { Page as Screen } from 'playwright-core';
import { expect, test } from 'vitest';
import { openScreen, useScreens } from '../support/screens.ts';
import { serve, Thermometer } from '../support/serving.ts';
import { Page } from '../support/socket.ts';
import { freshFolder } from '../support/store.ts';
import { watched, watchPage } from '../support/watched-page.ts';

useScreens({ again: false });

const HOUR_MS = 3_600_000;

test('stopped through an overshoot, it wakes to the alarm, and shows nothing that had waited while it slept', async () => {
  const thermometer = new Thermometer(31.5);
  const words = ['--port', thermometer.path, '--profile', 'dark', '--start-at', 'work'];
  const server = await serve(freshFolder(), words);
  const screen = await openScreen(server.address);
  await watchPage(screen);
  await screen.locator('main.run .number:not(.number-hollow)').waitFor();
  const wake = await putToSleep(screen);

  const awake = new Page(server.address);
  await awake.dial();
  thermometer.goTo(33, 9);
  await awake.until(() => awake.events.some((event) => event.kind === 'alarm-raised' && event.alarm === 'overshoot'));
  await wake(HOUR_MS);
  await screen.locator('main.alarm').waitFor();
  await screen.getByLabel(/^33\.0 degrees/).waitFor();
  const { said } = await watched(screen);
  const wokeAt = said.findIndex((sentence) => sentence.startsWith('This screen was asleep.'));
  expect(wokeAt).toBeGreaterThan(-1);
  expect(said.findIndex((sentence) => /ceiling for/.test(sentence))).toBeGreaterThan(wokeAt);
  await server.stop();
});

/** As a machine whose lid is shut: nothing of the page runs, what is sent to it waits. Resolves to how it wakes, so much later by its clock, ms. */
async function putToSleep(screen: Screen): Promise<(laterMs: number) => Promise<void>> {
  const debug = await screen.context().newCDPSession(screen);
  await debug.send('Debugger.enable');
  const stopped = new Promise<string>((resolve) =>
    debug.once('Debugger.paused', ({ callFrames }) => resolve(callFrames[0]!.callFrameId)),
  );
  await debug.send('Debugger.pause');
  const callFrameId = await stopped;
  return async (laterMs) => {
    const expression = `{ const now = Date.now; Date.now = () => now() + ${laterMs}; }`;
    await debug.send('Debugger.evaluateOnCallFrame', { callFrameId, expression });
    await debug.send('Debugger.resume');
  };
}
