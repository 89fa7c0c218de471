/** Bundles a page that draws the road into one script and one style sheet, fonts inside, so that a browser needs no server for it. */
import { dirname } from 'node:path';
import { build } from 'vite';
import type { Browser, Page } from 'playwright-core';

export interface RoadPage {
  readonly script: string;
  readonly style: string;
}

/** `entry`: the page's script, by default the one on which scenes are drawn. */
export async function buildRoadPage(entry = `${import.meta.dirname}/page.ts`): Promise<RoadPage> {
  const built = await build({
    configFile: false,
    root: dirname(entry),
    logLevel: 'error',
    build: {
      write: false,
      assetsInlineLimit: Infinity,
      lib: { entry, formats: ['iife'], name: 'unused', fileName: 'page' },
    },
  });
  if (!Array.isArray(built)) throw new Error('The road page did not build.');
  const files = built.flatMap(({ output }) => output);
  const script = files.find((file) => file.type === 'chunk');
  const style = files.find((file) => file.type === 'asset' && file.fileName.endsWith('.css'));
  if (script?.type !== 'chunk' || style?.type !== 'asset') throw new Error('The road page has no script or no style.');
  return { script: script.code, style: String(style.source) };
}

export async function openRoadPage(page: Page, { script, style }: RoadPage): Promise<void> {
  await page.setContent('<!doctype html><html lang="en"><body><div id="road"></div></body></html>');
  await page.addStyleTag({ content: style });
  await page.addScriptTag({ content: script });
}

/** What a road is drawn for. CSS px; `ratio`: device pixels to one. */
export interface RoadScreen {
  readonly width: number;
  readonly height: number;
  readonly ratio?: number;
  readonly colorScheme?: 'light' | 'dark';
  readonly contrast?: 'no-preference' | 'more';
}

/**
 * Pages that are put on one screen after another, one for each ratio: their script, fonts inside, takes longer to read than a road takes to
 * draw.
 */
export class RoadPages {
  readonly #browser: Browser;
  readonly #built: RoadPage;
  readonly #pages = new Map<number, Page>();

  constructor(browser: Browser, built: RoadPage) {
    this.#browser = browser;
    this.#built = built;
  }

  async on({ width, height, ratio = 1, colorScheme = 'light', contrast = 'no-preference' }: RoadScreen): Promise<Page> {
    const page = this.#pages.get(ratio) ?? (await this.#open(ratio));
    await page.setViewportSize({ width, height });
    await page.emulateMedia({ colorScheme, contrast });
    return page;
  }

  async #open(ratio: number): Promise<Page> {
    const page = await this.#browser.newPage({ locale: 'en-US', deviceScaleFactor: ratio });
    await openRoadPage(page, this.#built);
    this.#pages.set(ratio, page);
    return page;
  }

  async close(): Promise<void> {
    await Promise.all([...this.#pages.values()].map((page) => page.close()));
  }
}
