/** A page as it stands, brought before all eyes it is made for: on every screen, in every set of colours. A picture of each may be left. */
import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { axeFaults, paintFaults } from './axe.ts';
import { PHONE, TABLET } from './browser.ts';
import { widthFaults } from './faults.ts';
import { picture } from './picture.ts';

/** Until a test that goes through many of them is given up, ms: a guard against hanging, no bound on speed. */
export const MANY_LOOKS_MS = 400_000;

type Media = NonNullable<Parameters<Page['emulateMedia']>[0]>;

/** One set of colours, by name. */
export type Look = readonly [name: string, media: Media];

export const LIGHT: Look = ['light', { colorScheme: 'light' }];
export const DARK: Look = ['dark', { colorScheme: 'dark' }];
export const STRONG: Look = ['strong', { colorScheme: 'light', contrast: 'more' }];
export const FORCED: Look = ['forced', { colorScheme: 'light', forcedColors: 'active' }];

const PLAIN: Media = { colorScheme: 'light', contrast: 'no-preference', forcedColors: 'none' };

/**
 * Axe objects to nothing in any of them: they differ in colours alone, so all of its rules are asked in the first, and not even there where
 * `isLikeAnother`: as much was seen on a screen of another size. Leaves the page light.
 */
export async function looksRightIn(
  page: Page,
  looks: readonly Look[],
  name: string,
  isLikeAnother = false,
): Promise<void> {
  for (const [at, [look, media]] of looks.entries()) {
    await page.emulateMedia({ ...PLAIN, ...media });
    const faults = await (at === 0 && !isLikeAnother ? axeFaults(page) : paintFaults(page));
    expect(faults, `${name} in ${look}`).toEqual([]);
    await picture(page, `${name}-${look}`);
  }
  await page.emulateMedia(PLAIN);
}

type Screen = readonly [
  name: string,
  viewport: { readonly width: number; readonly height: number },
  looks: readonly Look[],
  /** Has the parts that one of the others has, in another size. */
  isLikeAnother: boolean,
];

const SCREENS: readonly Screen[] = [
  ['phone', PHONE.viewport!, [LIGHT, DARK], false],
  ['narrow', { width: 320, height: 568 }, [LIGHT], true],
  ['projector', { width: 1920, height: 1080 }, [LIGHT], true],
  ['tablet', TABLET.viewport!, [LIGHT, DARK, STRONG], false],
];

/** A figure that a line may end behind, before its unit. */
const PARTED = /.*\d (?:°[CF]|min|s|h|kg|m|Ω|%)(?!\w).*/g;

/** On each screen nothing is amiss in its layout, every figure stays with its unit, and axe objects to nothing. Leaves the page on a tablet. */
export async function looksRight(
  page: Page,
  state: string,
  layout: (page: Page) => Promise<string[]> = widthFaults,
): Promise<void> {
  for (const [screen, viewport, looks, isLikeAnother] of SCREENS) {
    await page.setViewportSize(viewport);
    expect(await layout(page), `${state} on a ${screen}`).toEqual([]);
    expect((await page.innerText('body')).match(PARTED) ?? [], `${state} on a ${screen}`).toEqual([]);
    await looksRightIn(page, looks, `${state}-${screen}`, isLikeAnother);
  }
}
