/** A server that is killed in the middle of a run, and the one after it: what a person at the page sees, and what the disk has kept. */
import { expect, test } from 'vitest';
import { openScreen, useScreens } from '../support/screens.ts';
import { serve, Thermometer } from '../support/serving.ts';
import { Page } from '../support/socket.ts';
import { allRuns, freshFolder, openedStore } from '../support/store.ts';

useScreens();

test('kill -9 in a run: the page comes back by itself, to the same run and phase, with the gap, and nothing shown as recorded is missing', async () => {
  const data = freshFolder();
  const thermometer = new Thermometer(31.5);
  const words = ['--port', thermometer.path, '--profile', 'dark', '--start-at', 'work'];
  const killed = await serve(data, words);
  const screen = await openScreen(killed.address);
  const before = new Page(killed.address);
  await before.dial();
  await screen.locator('main.run .number:not(.number-hollow)').waitFor();
  await before.until(() => before.readingCount > 12 && before.recordedTo >= 2);
  await killed.kill();
  const killedAtMs = performance.now();
  thermometer.unplug();
  const { recordedTo } = before;
  const run = before.info!.run;
  await screen.getByText('This screen has lost Bowlside.').first().waitFor();

  // The flags are for a run that is yet to begin: a run that goes on has its phase from the record.
  thermometer.plug();
  const awayMs = performance.now() - killedAtMs;
  const server = await serve(data, ['--port', thermometer.path], { port: Number(new URL(killed.address).port) });
  await screen.locator('main.run:not(.run-lost) .number:not(.number-hollow)').waitFor();
  const after = new Page(server.address);
  await after.dial();
  await after.first('snapshot');
  expect(after.info).toMatchObject({ run, resumed: true });
  await after.until(() => after.events.some(({ kind, atMs }) => kind === 'link' && atMs > before.events.at(-1)!.atMs));
  expect(after.events.findLast(({ kind }) => kind === 'phase-entered')).toMatchObject({ phase: 'work' });
  const count = after.readingCount;
  await after.until(() => after.readingCount > count + 4);

  expect(await server.stop()).toBe(0);
  const store = openedStore(data);
  expect(allRuns(store).map((each) => each.run)).toEqual([run]);
  const { events } = store.openRun(run)!;
  const readings = store.readingsOf(run);
  expect(events.slice(0, recordedTo)).toEqual(before.events.slice(0, recordedTo));
  expect(events.filter(({ kind }) => kind === 'run-started')).toHaveLength(1);
  const shown = before.readings.map(([atMs, valueC]) => `${atMs} ${valueC}`);
  const kept = new Set(readings.map(({ atMs, valueC }) => `${atMs} ${valueC}`));
  expect(shown.filter((each) => !kept.has(each))).toEqual([]);
  const gaps = events.flatMap((event) =>
    event.kind === 'link' && event.why === 'Bowlside was not running. How long is by the wall clock.' ? [event] : [],
  );
  expect(gaps).toMatchObject([{ up: false }]);
  const last = readings.findLast(({ atMs }) => atMs <= gaps[0]!.atMs)!;
  const next = readings.find(({ atMs }) => atMs > gaps[0]!.atMs)!;
  expect(next.atMs - last.atMs).toBeGreaterThanOrEqual(Math.floor(awayMs));
});
