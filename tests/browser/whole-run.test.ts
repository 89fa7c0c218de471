/**
 * A whole run on the built program: dark chocolate on a pseudo-terminal, a bowl that does what the page says, and hands that use no
 * pointer. Its clocks run faster than ours; its lines, its server, its page and its record are the real ones.
 */
import { expect, test } from 'vitest';
import { openScreen, useScreens } from '../support/screens.ts';
import { serve, Thermometer } from '../support/serving.ts';
import { allRuns, freshFolder, openedStore } from '../support/store.ts';
import { hasSaid, pressByKeys, tabTo, watched, watchPage } from '../support/watched-page.ts';

useScreens();

/** A run of a quarter of an hour takes a minute. */
const HURRIED = 15;
/** In this order, each with its number and its time. */
const SENTENCES = [
  /^Melt it all\. 45 °C in (about )?\d/,
  /^No lumps\? Cool it\. 4[5-8]\.\d °C, in the band/,
  /^Keep stirring\. 28 °C in (about )?\d/,
  /^Off the cold (now\. It will drift|in \d+ s\. Then it drifts) down to 2[78]\.\d/,
  /^Stir, and hold it there\. 2[78]\.\d °C\. \d+ (s|min) more for the seed\.$/,
  /^Warm it gently\. 31 °C in (about )?\d/,
  /^Off the heat (now\. It will coast|in \d+ s\. Then it coasts) to 3[12]\.\d/,
  /^Dip\. Holding for \d+ s, [01]\.\d under the ceiling\.$/,
  /^Off the heat, and stir\. (0\.\d over|Just at) the 32\.5 ceiling( for \d+ s)?\.$/,
  /^Stir\. Don’t dip yet\./,
  /^Look at the strip\./,
  /^The run is over\./,
];

test('by keys alone, from the choice of coating to the end in two steps, with every phase’s sentence on the way', async () => {
  const data = freshFolder();
  const bowl = new Thermometer(40.5, { hurried: HURRIED, lineEveryMs: 1_000, stirringC: 0.06 });
  const server = await serve(data, ['--port', bowl.path], { hurried: HURRIED });
  const screen = await openScreen(server.address);
  const { keyboard } = screen;
  await watchPage(screen);

  await pressByKeys(screen, /^Dark/);
  await pressByKeys(screen, /^Solid/);
  await screen.locator('main.run').waitFor();
  bowl.goTo(46.8, 2);
  await hasSaid(screen, /^Melt it all\. (To )?45/);
  await keyboard.press('n');
  await screen.getByRole('dialog').waitFor();
  await keyboard.press('3');
  await screen.getByText(/^Noted: stirred/).waitFor();
  await keyboard.press('n');
  await screen.getByRole('dialog').waitFor();
  await tabTo(screen, screen.getByLabel('In your own words'));
  await keyboard.type('bag opened today');
  await keyboard.press('Enter');
  await screen.getByText(/^Noted: bag opened today/).waitFor();

  await hasSaid(screen, /^Keep stirring\./);
  bowl.goTo(20, 5);
  await hasSaid(screen, /^Off the cold/);
  bowl.goTo(27.5, 2);
  await hasSaid(screen, /^Warm it gently\./);
  bowl.goTo(40, 1.8);
  await hasSaid(screen, /^Off the heat/);
  bowl.goTo(31.6, 0.8);

  await pressByKeys(screen, 'Test now');
  await hasSaid(screen, /^Dip\. Holding/);
  bowl.goTo(32.9, 1);
  await screen.locator('main.alarm').waitFor();
  await keyboard.press('Space');
  await screen.locator('main.run .strip-alarm').waitFor();
  await screen.getByText('Temper at risk').waitFor();
  bowl.goTo(31.5, 1.5);
  await screen.locator('.strip-alarm').waitFor({ state: 'detached' });
  // The first strip was of the chocolate before it went over.
  await pressByKeys(screen, 'Test now');
  await screen.getByText('How did it set?').waitFor();
  await pressByKeys(screen, 'Sets glossy');
  await screen.getByText(/^Noted: strip test good/).waitFor();

  await pressByKeys(screen, 'End');
  await pressByKeys(screen, 'End it');
  await hasSaid(screen, /^The run is over\./);
  const { said, touched } = await watched(screen);
  expect(touched).toEqual([]);
  expect(inOrder(said, SENTENCES)).toEqual(SENTENCES.map(String));

  expect(await server.stop()).toBe(0);
  const store = openedStore(data);
  const [run, ...others] = allRuns(store);
  expect(others).toEqual([]);
  const { events } = store.openRun(run!.run)!;
  const phases = events.flatMap((event) => (event.kind === 'phase-entered' ? [`${event.phase} ${event.by}`] : []));
  // Only the first one follows from what the hands said.
  expect(phases).toEqual(['melt hand', 'cool reached', 'rewarm reached', 'work reached']);
  const acts = events.flatMap((event) => (event.kind === 'act' ? [event.act] : []));
  expect(acts).toEqual(['stirred', 'strip-laid', 'strip-laid', 'strip-test-good']);
  expect(events).toContainEqual(expect.objectContaining({ kind: 'alarm-acknowledged', alarm: 'overshoot' }));
  expect(events.at(-1)).toMatchObject({ kind: 'run-ended', by: 'hand' });
});

/** Those of the sentences that were said, each after the one before it. */
function inOrder(said: readonly string[], sentences: readonly RegExp[]): string[] {
  let from = 0;
  return sentences.flatMap((sentence) => {
    const at = said.findIndex((each, i) => i >= from && sentence.test(each));
    if (at < 0) return [];
    from = at;
    return [String(sentence)];
  });
}
