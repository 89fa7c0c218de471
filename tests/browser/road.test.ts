/** The road on a real canvas: what is brightest, where the ceiling lies, that a gap is a gap, how often it draws. */
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { sharedBrowser } from '../support/browser.ts';
import { buildRoadPage, RoadPages } from '../support/road/build.ts';
import type { RoadScreen } from '../support/road/build.ts';
import { drawPictures } from '../support/road/pictures.ts';
import { GINGER, START_MS, eveningC } from '../support/road/scenes.ts';
import type { RoadSpot } from '../../web/road/road.ts';
import { xAt, yAt } from '../../web/road/sheet.ts';
import type { Panel, Sheet } from '../../web/road/sheet.ts';

const WIDTH = 686;
const HEIGHT = 492;
const MINUTE_MS = 60_000;
const [CEILING_C, LOW_C, HIGH_C] = [GINGER.phases[3]!.ceilingC!, ...GINGER.phases[3]!.bandC];

type Colour = readonly [red: number, green: number, blue: number];

let pages: RoadPages;

beforeAll(async () => {
  const [browser, built] = await Promise.all([sharedBrowser(), buildRoadPage()]);
  pages = new RoadPages(browser, built);
});
afterAll(() => pages.close());

/** A page with a scene drawn on it, and what is needed to look at single points of it. */
async function shown(
  scene: string,
  screen: Partial<RoadScreen> = {},
): Promise<{ page: Page; sheet: Sheet; panel: Panel }> {
  const page = await pages.on({ width: WIDTH, height: HEIGHT, ...screen });
  await page.evaluate((a) => window.roadPage.show(a.scene, a.width, a.height), { scene, width: WIDTH, height: HEIGHT });
  const sheet = await page.evaluate((a) => window.roadPage.layOut(a.scene, a.width, a.height), {
    scene,
    width: WIDTH,
    height: HEIGHT,
  });
  return { page, sheet, panel: sheet.panels[0]! };
}

const colourAt = (page: Page, x: number, y: number): Promise<Colour> =>
  page.evaluate((a) => window.roadPage.colourAt(a.x, a.y), { x, y });

const propertyOf = (page: Page, name: string): Promise<Colour> =>
  page.evaluate((a) => window.roadPage.property(a), name);

function brightness([red, green, blue]: Colour): number {
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
}

/** Rows of one column of pixels that have this colour, CSS px. */
const rowsOf = (page: Page, x: number, colour: Colour): Promise<number[]> =>
  page.evaluate((a) => window.roadPage.rowsOf(a.x, a.colour), { x, colour });

describe('the road', () => {
  it('draws every state at every size without an error', async () => {
    expect(await drawPictures(pages)).toEqual([]);
  });

  it('takes on new colours whole, the ground that it keeps from before included', async () => {
    const { page, panel } = await shown('work');
    const x = xAt(panel, START_MS + 68.9 * MINUTE_MS);
    const verge = (): Promise<Colour> => colourAt(page, x, yAt(panel, LOW_C - 0.2, x));
    const light = await verge();
    expect(light).toEqual(await propertyOf(page, '--verge'));
    await page.emulateMedia({ colorScheme: 'dark' });
    await expect.poll(() => propertyOf(page, '--verge')).not.toEqual(light);
    await page.evaluate(() => window.roadPage.hurry(1));
    await expect.poll(verge).toEqual(await propertyOf(page, '--verge'));
  });

  it.each([
    ['light', {}],
    ['dark', { colorScheme: 'dark' }],
    ['strong', { contrast: 'more' }],
  ] as const)('has no surface brighter than the lane in its %s colours', async (_, options) => {
    const { page, panel } = await shown('work', options);
    const x = xAt(panel, START_MS + 68.9 * MINUTE_MS);
    const lane = await colourAt(page, x, yAt(panel, LOW_C + 0.15, x));
    expect(lane).toEqual(await propertyOf(page, '--lane'));
    for (const valueC of [LOW_C - 0.2, 30.2, HIGH_C + 0.25, 33.2, 34.3])
      expect(brightness(await colourAt(page, x, yAt(panel, valueC, x)))).toBeLessThan(brightness(lane));
  });

  it('has the ceiling and the kerbs where their temperatures are, and no line between them', async () => {
    const { page, panel } = await shown('work');
    const ink = await propertyOf(page, '--map-ink');
    const x = panel.box.x + 200.5;
    const rows = await rowsOf(page, x, ink);
    for (const valueC of [CEILING_C, HIGH_C, LOW_C]) expect(rows).toContain(Math.round(yAt(panel, valueC, x)));
    expect(rows).not.toContain(Math.round(yAt(panel, 32.25, x)));
  });

  it('names the lost line whole on a low map too, or not at all', async () => {
    const { page } = await shown('work');
    const width = 390;
    const ink = await propertyOf(page, '--map-ink');
    const named: number[] = [];
    for (const height of [140, 149, 158, 170, 178, 181, 210]) {
      await page.evaluate((a) => window.roadPage.show('work', a.width, a.height), { width, height });
      const sheet = await page.evaluate((a) => window.roadPage.layOut('work', a.width, a.height), { width, height });
      const [panel] = sheet.panels;
      const lostY = yAt(panel!, GINGER.phases[3]!.lostAboveC!, panel!.box.x);
      const columns = await Promise.all(
        Array.from({ length: 20 }, (_, i) => rowsOf(page, panel!.box.x + 12 + 2 * i, ink)),
      );
      const letters = columns.flat().filter((row) => row < lostY - 7);
      // The ground round a letter is half of 6 px wide.
      expect(
        letters.filter((row) => row < 3),
        `${height} px high`,
      ).toEqual([]);
      if (letters.length > 0) named.push(height);
    }
    expect(named).toEqual(expect.arrayContaining([170, 178, 210]));
  });

  it('has the trace where the chocolate was', async () => {
    const { page, panel } = await shown('work');
    const blue = await propertyOf(page, '--trace');
    for (const minute of [56, 59, 63, 70]) {
      const x = xAt(panel, START_MS + minute * MINUTE_MS);
      const rows = await rowsOf(page, x, blue);
      const middle = rows.reduce((sum, row) => sum + row, 0) / rows.length;
      expect(Math.abs(middle - yAt(panel, eveningC(minute), x))).toBeLessThan(3);
    }
  });

  it('leaves a gap a gap: page-coloured, and no trace in it', async () => {
    const { page, panel } = await shown('gap');
    const blue = await propertyOf(page, '--trace');
    for (const minute of [60.3, 60.7, 62.2]) {
      const x = xAt(panel, START_MS + minute * MINUTE_MS);
      expect(await rowsOf(page, x, blue)).toEqual([]);
      expect(await colourAt(page, x, yAt(panel, 30.7, x))).toEqual(await propertyOf(page, '--slab'));
    }
    expect(await rowsOf(page, xAt(panel, START_MS + 59.5 * MINUTE_MS), blue)).not.toEqual([]);
  });

  it('shows a single second over the ceiling in twelve hours', async () => {
    const { page, sheet } = await shown('spike');
    const blue = await propertyOf(page, '--trace');
    const panel = sheet.panels.at(-1)!;
    const x = xAt(panel, START_MS + 300 * MINUTE_MS);
    const columns = await Promise.all([-1, 0, 1].map((dx) => rowsOf(page, x + dx, blue)));
    expect(Math.min(...columns.flat())).toBeLessThanOrEqual(yAt(panel, 33.9, x) + 2);
  });

  it.each([
    [1, 'all'],
    [2.625, 'spike'],
    [1.25, 'work'],
  ])(
    'draws only what is new or has moved, at %d device pixels to one in the scene %s, and it looks as if all of it was',
    async (ratio, scene) => {
      const { page } = await shown(scene, { ratio });
      const { amiss, moved } = await page.evaluate((name) => window.roadPage.grow(name, 4, 7), scene);
      expect(moved).toBeGreaterThan(100);
      // Where new and kept meet, a line that is drawn in two parts is smoothed otherwise than one drawn whole.
      expect(amiss).toBeLessThanOrEqual(12);
    },
  );

  it.each([1, 1.25, 1.5, 2, 2.625, 3])('keeps its size and stays sharp at %d device pixels to one', async (ratio) => {
    const { page } = await shown('work', { ratio });
    const before = await page.evaluate(() => window.roadPage.sizes());
    await page.evaluate(() => window.roadPage.settle());
    const after = await page.evaluate(() => window.roadPage.sizes());
    expect(after).toEqual(before);
    expect(after.css).toEqual([WIDTH, HEIGHT]);
    expect(after.device).toEqual([Math.floor(WIDTH * ratio), Math.floor(HEIGHT * ratio)]);
  });

  it('draws at most four times a second however often it is told, and the newest in the end', async () => {
    const { page } = await shown('work');
    const { drawings, seconds } = await page.evaluate(() => window.roadPage.hurry(40));
    expect(drawings).toBeGreaterThanOrEqual(2);
    expect(drawings).toBeLessThanOrEqual(Math.ceil(seconds * 4) + 1);
  });

  it('draws nothing while nobody can see it, and once when it is seen again', async () => {
    const { page } = await shown('work');
    expect(await page.evaluate(() => window.roadPage.hideAndShow())).toEqual({ hidden: 0, shown: 1 });
  });

  it('tells the moment under a finger on the map, the phase under one on a fold, and nothing beside them', async () => {
    const { page, panel } = await shown('work');
    const spotAt = (x: number, y: number): Promise<RoadSpot> =>
      page.evaluate((a) => window.roadPage.spotAt(a.x, a.y), { x, y });
    const atMs = START_MS + 60 * MINUTE_MS;
    const spot = await spotAt(xAt(panel, atMs), 200);
    expect(spot.kind === 'time' && Math.abs(spot.atMs - atMs)).toBeLessThan(1_000);
    expect(await spotAt(20, 200)).toEqual({ kind: 'fold', fromMs: START_MS, toMs: START_MS + 22 * MINUTE_MS });
    expect(await spotAt(panel.box.x - 20, 200)).toEqual({ kind: 'nothing' });
  });

  it('says in words what it shows', async () => {
    const { page } = await shown('work');
    expect(await page.getByRole('img').getAttribute('aria-label')).toMatch(
      /^Work, 22 min so far\. 31\.\d °C, in the band\. Band 31–32/,
    );
  });

  it('leaves nothing behind when it is taken down', async () => {
    const { page } = await shown('work');
    expect(await page.evaluate(() => window.roadPage.takeDown())).toBe(0);
  });
});
