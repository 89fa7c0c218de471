/** How a thermometer that says nothing is told: each way its own words, its cause, and what to do. */
import { describe, expect, test } from 'vitest';
import { linkSentence } from '../../web/words/link.ts';
import type { LinkNow } from '../../web/words/link.ts';
import { linkWords } from '../../web/words/idle.ts';
import { LINKS } from '../support/scenes.ts';

const NOTHING: LinkNow = {
  link: { state: 'simulated' },
  lastLine: null,
  rejected: {},
  reading: null,
  atMs: 0,
  stale: true,
};

const said = (now: Partial<LinkNow>): readonly (string | undefined)[] => {
  const words = linkSentence({ ...NOTHING, ...now });
  return [words?.act, words?.detail];
};

describe('a link that gives no number', () => {
  test.each([
    [
      'link-none',
      'Waiting for your thermometer.',
      'No USB serial port is plugged in. Plug it in, and it is used by itself.',
    ],
    [
      'link-silent',
      'Nothing has come from the thermometer for 15 s.',
      'Is it switched on, and does no other program read its port? Trying again in 4 s.',
    ],
    [
      'link-busy',
      'Another program is using /dev/ttyACM0.',
      'Close that program (a terminal, an editor’s serial monitor, another Bowlside). Trying again in 5 s.',
    ],
    [
      'link-forbidden',
      'This account may not open /dev/ttyACM0.',
      'Add it to the group that owns the port (dialout, on some systems uucp), then log out and in again. Trying again in 5 s.',
    ],
    [
      'link-unclear',
      'It speaks, but not clearly.',
      'It says “~x·@!·#”. Its leaflet tells how to set it to plain numbers.',
    ],
  ])('%s', (name, act, detail) => {
    expect(said(LINKS[name]!)).toEqual([act, detail]);
  });

  test('several of them are a question first, as nothing can go on without its answer', () => {
    const why = 'Which one is in the chocolate? These are plugged in: Kitchen probe; Bench probe. Tap it on the page.';
    expect(said({ link: { state: 'looking', why } })).toEqual([
      'Which one is in the chocolate?',
      'These are plugged in: Kitchen probe; Bench probe. Tap it on the page.',
    ]);
  });

  test('just open and not heard yet', () => {
    expect(said({ link: { state: 'up', label: 'probe' } })).toEqual([
      'Plugged in, but silent.',
      'Is it switched on? It may speak only when asked.',
    ]);
  });

  test('open, mute, and read by another program', () => {
    const why =
      'Nothing has come from the thermometer for 3 s. Another program may be reading it: cat (process 7). Close it.';
    expect(said({ link: { state: 'up', label: 'probe', why } })).toEqual([
      'Nothing has come from the thermometer for 3 s.',
      'Another program may be reading it: cat (process 7). Close it.',
    ]);
  });

  test('of a path that is too long for a sentence its end is told, where one port differs from another', () => {
    const path = '/dev/serial/by-id/usb-Invented_Instruments_Kitchen_Probe_0123456789ABCDEF-if00-port0';
    const why = `${path} is open, but says nothing. Is it switched on?`;
    const link = { state: 'up', label: path, why } as const;
    expect(said({ link })).toEqual(['/dev/…3456789ABCDEF-if00-port0 is open, but says nothing.', 'Is it switched on?']);
    expect(linkWords(link)).toBe(why);
    expect(linkWords({ ...link, why: 'Its lines come torn.' })).toBe(
      `Thermometer connected: ${path}. Its lines come torn.`,
    );
    expect(said({ link: { ...link, why: '/dev/cu.usbserial-AB0CD1EF is open, but says nothing. On?' } })[0]).toBe(
      '/dev/cu.usbserial-AB0CD1EF is open, but says nothing.',
    );
  });

  test('a bowl with no probe in it is sent to where one is put there, not to plug and cable', () => {
    const why = 'No thermometer is in this bowl yet. Under “Bowls”, say which probe is in it.';
    expect(said({ link: { state: 'looking', why } })).toEqual([
      'No thermometer is in this bowl yet.',
      'Under “Bowls”, say which probe is in it.',
    ]);
  });

  test('the speed that was found is told with a line heard at it, and what is wrong all the same', () => {
    const found = { state: 'up', label: 'probe', baud: 115_200, sample: '31.2 \xb0C' } as const;
    expect(linkWords(found)).toBe('Thermometer connected: probe. At 115200 baud it says “31.2 ·C”.');
    expect(linkWords({ ...found, why: 'Its lines come torn.' })).toMatch(/”\. Its lines come torn\.$/);
    expect(linkWords({ state: 'up', label: 'probe', sample: '31.2' })).toBe(
      'Thermometer connected: probe. It says “31.2”.',
    );
  });

  test('a reason without an act of its own gets one', () => {
    const why = 'The thermometer was unplugged, or its cable is loose.';
    expect(said({ link: { state: 'down', why, retryInMs: null } })).toEqual([why, 'Check its plug and its cable.']);
  });

  test('nothing is said of a link that works, or of the simulated bowl', () => {
    const reading = { valueC: 31, atMs: 0, quality: 'good' } as const;
    expect(linkSentence(NOTHING)).toBeNull();
    expect(linkSentence({ ...NOTHING, link: { state: 'up', label: 'p' }, reading, lastLine: '31.0' })).toBeNull();
  });
});
