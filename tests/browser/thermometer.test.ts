/**
 * The real path, from the wire to the page and back from the record: bytes on a pseudo-terminal, the built program, a real browser,
 * the database afterwards. Stories are short because every clock in them is real.
 */
import { describe, expect, test } from 'vitest';
import { Page } from '../support/socket.ts';
import { openScreen, useScreens } from '../support/screens.ts';
import { serve, Thermometer } from '../support/serving.ts';
import { allRuns, freshFolder, openedStore } from '../support/store.ts';

useScreens();

const AT_WORK = ['--profile', 'dark', '--start-at', 'work'];
const CEILING_C = 32.5;

test('over the ceiling: the alarm takes the page, Seen on one screen is seen on the other, and all of it is on disk', async ({
  annotate,
}) => {
  const data = freshFolder();
  const thermometer = new Thermometer(31.5);
  const server = await serve(data, ['--port', thermometer.path, ...AT_WORK]);
  const [first, second] = await Promise.all([openScreen(server.address), openScreen(server.address)]);
  await first.locator('.number:not(.number-hollow)').getByLabel('31.5 degrees').waitFor();
  await first.getByRole('button', { name: 'Note it' }).waitFor();

  thermometer.watch(CEILING_C);
  thermometer.goTo(33, 9);
  await Promise.all([first, second].map((page) => page.locator('main.alarm').waitFor()));
  const tookPageAtMs = performance.now();
  // The estimate may be a moment ahead of a slow probe.
  await expect.poll(() => thermometer.crossedAtMs).not.toBeNull();
  const delayMs = tookPageAtMs - thermometer.crossedAtMs!;
  // The goal is 10 s.
  await annotate(`alarm to page: ${Math.round(delayMs)} ms`);
  expect(await first.locator('h1').innerText()).toBe('Off the heat, and stir.');
  expect(await first.locator('.detail').innerText()).toMatch(/(Just at|over) the 32\.5 ceiling/);
  expect(await first.locator('.figures').getAttribute('aria-label')).toMatch(/^3[23]\.\d degrees Celsius$/);
  expect(await first.locator('.next-words').innerText()).toContain('No dipping');

  const seenAtMs = second
    .locator('.strip-alarm', { hasText: 'Seen' })
    .waitFor()
    .then(() => performance.now());
  const pressedAtMs = performance.now();
  await first.getByRole('button', { name: /^Seen/ }).press('Enter');
  await annotate(`acknowledgement to second page: ${Math.round((await seenAtMs) - pressedAtMs)} ms`);
  await first.locator('.strip-alarm').waitFor();
  await first.getByLabel('33.0 degrees').waitFor();

  expect(await server.stop()).toBe(0);
  const store = openedStore(data);
  const [summary, ...others] = allRuns(store);
  expect(others).toEqual([]);
  expect(summary).toMatchObject({ profile: 'dark', simulated: false, worstAlarm: 'overshoot' });
  const run = store.openRun(summary!.run)!;
  expect(run.source).toBe(`serial:${thermometer.path}`);
  expect(run.events).toEqual(
    expect.arrayContaining([
      expect.objectContaining({ kind: 'phase-entered', phase: 'work' }),
      expect.objectContaining({ kind: 'alarm-raised', alarm: 'overshoot', limitC: CEILING_C, phase: 'work' }),
      expect.objectContaining({ kind: 'alarm-acknowledged', alarm: 'overshoot' }),
    ]),
  );
  expect(Math.max(...store.readingsOf(run.run).map(({ valueC }) => valueC))).toBeGreaterThan(CEILING_C);
});

test('two taps begin a run with a thermometer that nothing was said about', async () => {
  const data = freshFolder();
  const thermometer = new Thermometer(31.4);
  const server = await serve(data, ['--port', thermometer.path]);
  const screen = await openScreen(server.address);
  await screen.getByText(`Thermometer connected: ${thermometer.path}.`).waitFor();
  await screen.getByLabel('31.4 degrees').waitFor();
  await screen.getByText('Dark chocolate').click();
  await screen.getByText('Already tempered').click();
  await screen.locator('main.run').waitFor();
  await screen.getByRole('heading', { name: /^Strip test before you dip/ }).waitFor();
  expect(await screen.locator('.ribbon').count()).toBe(0);
  await server.stop();
  expect(allRuns(openedStore(data))).toMatchObject([{ profile: 'dark', simulated: false, endedAtMs: null }]);
});

test.for([
  ['straight after a line', ''],
  ['in the middle of a line', '8'],
] as const)(
  'unplugged %s: hollow, and said; plugged in again: live, the same run, a gap, nothing glued',
  async ([, rest], { annotate }) => {
    const data = freshFolder();
    const thermometer = new Thermometer(31.5);
    const server = await serve(data, ['--port', thermometer.path, ...AT_WORK]);
    const screen = await openScreen(server.address);
    const page = new Page(server.address);
    await page.dial();
    await screen.locator('main.run .number:not(.number-hollow)').waitFor();
    await page.until(() => page.readingCount > 8);
    const run = page.info!.run;

    await thermometer.write(rest);
    thermometer.unplug();
    const awayAtMs = performance.now();
    await screen.locator('.number-hollow').waitFor();
    const delayMs = performance.now() - awayAtMs;
    // The goal is 3 s.
    await annotate(`unplug to page: ${Math.round(delayMs)} ms`);
    await screen.getByText(/was 31\.5 at/).waitFor();
    await screen.getByRole('button', { name: 'More' }).click();
    await screen
      .getByText(/ Trying again in \d+\ss\.$/)
      .first()
      .waitFor();
    await page.until(() => page.events.some((event) => event.kind === 'link' && !event.up));

    thermometer.plug();
    await screen.getByText(/^Thermometer connected/).waitFor();
    await screen.locator('.number:not(.number-hollow)').waitFor();
    const before = page.readingCount;
    await page.until(() => page.readingCount > before + 4);
    expect(page.info!.run).toBe(run);
    expect(page.faults).toEqual([]);

    await server.stop();
    const store = openedStore(data);
    expect(allRuns(store).map((each) => each.run)).toEqual([run]);
    const { events } = store.openRun(run)!;
    const readings = store.readingsOf(run);
    const links = events.filter((event) => event.kind === 'link');
    expect(links.slice(-2).map(({ up: isUp }) => isUp)).toEqual([false, true]);
    const [down, up] = links.slice(-2);
    expect(readings.filter(({ atMs }) => atMs > down!.atMs && atMs <= up!.atMs)).toEqual([]);
    expect(readings.findLast(({ atMs }) => atMs <= down!.atMs)).toBeDefined();
    expect(readings.at(-1)!.atMs).toBeGreaterThan(up!.atMs);
    const lines = store.inputsOf(run).flatMap((input) => (input.kind === 'line' ? [input.text] : []));
    expect(lines.filter((text) => !/^31\.\d\d$/.test(text))).toEqual([]);
  },
);

describe('dialects', () => {
  test('the number follows them all within one run; noise in between is counted, by reason', async () => {
    const data = freshFolder();
    const thermometer = new Thermometer(31.5);
    const server = await serve(data, ['--port', thermometer.path, ...AT_WORK]);
    const screen = await openScreen(server.address);
    const page = new Page(server.address);
    await page.dial();
    await screen.locator('main.run').getByLabel('31.5 degrees').waitFor();
    for (const [line, shown] of [
      ['31.42\n', '31.4'],
      ['31.6 C\r\n', '31.6'],
      ['T: 31.3\r', '31.3'],
      // Of two numbers without a word, the one that is stirred is the chocolate.
      ['31.52;22.0\n\r|31.49;22.0\n\r', '31.5'],
      ['{"temp":31.7}\n', '31.7'],
      ['88.5 F\r\n', '31.4'],
      ['304.75 K\n', '31.6'],
    ] as const) {
      const said = line.split('|');
      let count = 0;
      thermometer.say(() => said[count++ % said.length]!);
      await thermometer.write('\u00ff\u00ff\u00fe\r\nnoise on the line\r\n');
      await screen.getByLabel(`${shown} degrees`).waitFor();
    }
    await screen.getByRole('button', { name: 'More' }).click();
    await screen.getByText(/^Not used: .*\d/).waitFor();
    const counted = (): number => {
      const now = page.heard.findLast((message) => message.kind === 'now')!;
      return Object.values(now.rejected).reduce((sum, count) => sum + count, 0);
    };
    await expect.poll(counted).toBeGreaterThanOrEqual(14);
    const status = (await (await fetch(`${server.address}/api/bowls/bowl-1`)).json()) as { info: { run: string } };
    expect(status).toMatchObject({ state: 'going', link: { state: 'up' }, info: { run: page.info!.run } });
    expect(page.events.filter(({ kind }) => kind === 'alarm-raised')).toEqual([]);
  });
});

test('with no thermometer the simulated bowl is shown, says so, and begins its run by itself', async () => {
  const server = await serve(freshFolder(), ['--simulate']);
  expect(server.said.join('\n')).toContain('simulated');
  const screen = await openScreen(server.address);
  await screen.locator('main.run').waitFor();
  expect(await screen.locator('.ribbon').innerText()).toBe('Simulated: no thermometer is read.');
  await screen.locator('.number:not(.number-hollow, .number-none)').waitFor();
  await screen.locator('.age', { hasText: /^Simulated/ }).waitFor();
});
