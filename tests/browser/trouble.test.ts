/** A thermometer that can't be read, on the built program: the page says the cause and the next act, and goes live by itself once it is cured. */
import { symlinkSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { axeFaults } from '../support/axe.ts';
import { pictures } from '../support/picture.ts';
import { openScreen, useScreens } from '../support/screens.ts';
import { serve, Thermometer } from '../support/serving.ts';
import { freshFolder } from '../support/store.ts';

useScreens();

/** A silence of ten seconds is over in one. */
const HURRIED = 10;

/** As it is read: a space is a space, whether a line may break there or not. */
async function sentenceOf(screen: Page): Promise<string> {
  const [act, detail] = await Promise.all(['h1', '.detail'].map((part) => screen.locator(part).innerText()));
  return `${act} ${detail}`.replaceAll('\u00a0', ' ');
}

interface Trouble {
  /** Before the server starts. Resolves to how it is cured. */
  readonly cause: (thermometer: Thermometer, path: string) => Promise<() => unknown>;
  readonly says: RegExp;
}

const usual = (valueC: number): string => `${valueC.toFixed(2)}\r\n`;

const TROUBLES: Readonly<Record<string, Trouble>> = {
  silent: {
    cause: (thermometer) => {
      thermometer.say(() => '');
      return Promise.resolve(() => thermometer.say(usual));
    },
    // Where the system tells who else has it open, that is named.
    says: /^.* is open, but says nothing\. (?:Is it switched on\?|Another program may be reading it: .*\. Close it\.)/,
  },
  'of another speed': {
    cause: (thermometer) => {
      thermometer.say(() => '\u00f8\u0080~x\u00fe@!\u00c3#\u0098\r\n');
      return Promise.resolve(() => thermometer.say(usual));
    },
    says: /^What comes is no text at any usual speed\. Give the speed from its leaflet with --baud; \d+ is used until then\.$/,
  },
  'held by another program': {
    cause: async ({ path }) => {
      const other = await serve(freshFolder(), ['--port', path]);
      return () => other.stop();
    },
    says: /^Another program is using .*(?:\. Close that program|: .*\. Close it\.)/,
  },
  'not plugged in': {
    cause: ({ path: device }, path) => Promise.resolve(() => symlinkSync(device, path)),
    says: /^There is no device at .*\. Plug the thermometer in/,
  },
};

test.each(Object.entries(TROUBLES))(
  '%s: told with cause and next act, and over by itself',
  async (name, { cause, says }) => {
    const thermometer = new Thermometer(31.4);
    const path = name === 'not plugged in' ? join(freshFolder(), 'thermometer') : thermometer.path;
    const cure = await cause(thermometer, path);
    const server = await serve(freshFolder(), ['--port', path], { hurried: HURRIED });
    const screen = await openScreen(server.address);
    await expect.poll(() => sentenceOf(screen)).toMatch(says);
    await screen.locator('.number-none').waitFor();
    expect(await axeFaults(screen)).toEqual([]);
    await pictures(screen, `port-${name.replaceAll(' ', '-')}`);
    await cure();
    await screen.locator('.number:not(.number-hollow, .number-none)').getByLabel('31.4 degrees').waitFor();
    await screen.getByText(`Thermometer connected: ${path}.`).waitFor();
    await server.stop();
  },
);
