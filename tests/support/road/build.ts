/** Bundles a page that draws the road into one script and one style sheet, fonts inside, so that a browser needs no server for it. */
import { dirname } from 'node:path';
import { build } from 'vite';
import type { Page } from 'playwright-core';

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
