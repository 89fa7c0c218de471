/** The start page in a real browser, told by a scripted server: the questions it asks, what it says of the heat meanwhile, and how a run begins and ends there. */
import { describe, expect, test } from 'vitest';
import type { NowMessage } from '../../server/core/show/wire.ts';
import { TABLET } from '../support/browser.ts';
import { widthFaults } from '../support/faults.ts';
import { greetingAt, nowAt } from '../support/scenes.ts';
import { useScreens } from '../support/screens.ts';
import { CAREFUL, picture, pictures, READY, SEVERAL, show, START } from '../support/shown-page.ts';

useScreens();

describe('start', () => {
  test('two taps choose the chocolate and how it stands', async () => {
    const { page, bowl } = await show(START);
    await page.getByText('Milk chocolate').click();
    await page.getByText('Already tempered').click();
    await expect
      .poll(() => bowl.asked)
      .toEqual([
        {
          path: '/api/bowls/bowl-1/commands',
          body: { name: 'choose-profile', profile: 'milk', condition: 'tempered' },
        },
      ]);
  });

  test('while no thermometer is open, it asks which one is in the chocolate, and each that could be it is a button', async () => {
    const { page, bowl } = await show(SEVERAL);
    await page.getByRole('heading', { name: 'Which one is in the chocolate?' }).waitFor();
    await page.getByRole('heading', { name: 'Which chocolate?' }).waitFor();
    await page.getByRole('button', { name: 'Kitchen probe' }).click();
    await expect
      .poll(() => bowl.asked)
      .toEqual([{ path: '/api/thermometers', body: { path: '/dev/ttyACM1', bowl: 'bowl-1' } }]);
  });

  test('over the lowest ceiling with nothing chosen, a band says what to do and which it is, until it has cooled', async () => {
    const { page, bowl } = await show(CAREFUL);
    expect(await page.locator('h1').innerText()).toBe('Off the heat now.');
    expect(await page.locator('.headline-band .detail').innerText()).toBe(
      '46.2 is over 46, the ceiling for white. Which is it?',
    );
    await page.getByText('White chocolate').waitFor();
    expect(await page.getByText('Which one is in the chocolate?').count()).toBe(0);
    bowl.say({ ...(CAREFUL[2] as NowMessage), careful: null });
    await page.getByText('Which chocolate?').first().waitFor();
    expect(await page.locator('.headline-band').count()).toBe(0);
  });

  test('once it is named, its own ceiling counts: the next question comes, or the band where it is too hot for that one too', async () => {
    const { page, bowl } = await show(CAREFUL);
    await page.getByText('Dark chocolate').click();
    await page.getByRole('heading', { name: 'How does it stand?' }).waitFor();
    expect(await page.locator('.headline-band').count()).toBe(0);
    const hot = CAREFUL[2] as NowMessage;
    bowl.say({ ...hot, estimate: { ...hot.estimate!, tempC: 52.6 } });
    await page.locator('.headline-band', { hasText: 'How does it stand?' }).waitFor();
    expect(await page.locator('.headline-band .detail').innerText()).toBe(
      '52.6 is over 52, the ceiling for dark. How does it stand?',
    );
  });

  test('too warm for any seed, it is not taken for tempered: said before, and asked again', async () => {
    const warm = { ...(CAREFUL[2] as NowMessage), careful: null };
    const { page, bowl } = await show([...START.slice(0, 2), warm]);
    await page.getByText('Dark chocolate').click();
    await page.getByText('Not now: over 34 no seed is left.').waitFor();
    await page.getByText('Already tempered').click();
    await page.getByRole('heading', { name: 'No seed can be left.' }).waitFor();
    expect(await page.locator('.headline .detail, .detail').first().innerText()).toContain('46.2 is over 34');
    await pictures(page, 'start-no-seed');
    expect(bowl.asked).toEqual([]);
    await page.getByRole('button', { name: /^Melted/ }).click();
    await expect.poll(() => bowl.asked).toMatchObject([{ body: { profile: 'dark', condition: 'melted' } }]);
  });

  test('both questions answered, it says what is waited for until the chocolate warms', async () => {
    const waiting = {
      ...(START[2] as NowMessage),
      waitingFor: { title: 'Dark chocolate', condition: 'solid' as const },
    };
    const { page } = await show([...START.slice(0, 2), waiting]);
    await page.getByRole('heading', { name: 'Warm it gently.' }).waitFor();
    await page.getByText('Dark chocolate, solid. The run begins by itself.').first().waitFor();
    await pictures(page, 'start-waiting');
  });

  test('what a probe in the room measures stands in the place of typing it', async () => {
    const { page } = await show([...START.slice(0, 2), { ...(START[2] as NowMessage), roomC: 25 }]);
    await page.getByText('Measured in the room now.').waitFor();
    await page.getByText(/^24\s°C and more is too warm/).waitFor();
    expect(await page.getByLabel('Room, °C').count()).toBe(0);
  });

  test('the end of a run stays until somebody goes on, however hot the bowl still is', async () => {
    const over = { min: 22, further: [{ kind: 'run-ended', by: 'hand' }] } as const;
    const { page, bowl } = await show(greetingAt(over));
    await page.getByRole('heading', { name: 'The run is over.' }).waitFor();
    const hot = { run: null, careful: { limitC: 46, coating: 'white' } } as const;
    bowl.say(nowAt({ min: 22.1, now: hot }));
    await page
      .getByRole('alert')
      .getByText(/is over 46, the ceiling for white\./)
      .waitFor();
    expect(await page.locator('h1').innerText()).toBe('The run is over.');
    await pictures(page, 'over-hot');
    await page.getByRole('button', { name: 'Start a run' }).click();
    await page.getByRole('heading', { name: 'Off the heat now.' }).waitFor();
  });

  test('at the end the longest word for the temper stands on one line beside the map', async () => {
    const lost = { kind: 'standing', standing: 'lost', why: 'above-lost' } as const;
    const { page } = await show(greetingAt({ min: 110, further: [lost, { kind: 'run-ended', by: 'hand' }] }));
    const word = page.getByText('Ended, temper lost, our estimate');
    expect(await word.evaluate((element) => element.getClientRects().length)).toBe(1);
    await picture(page, 'over-lost');
  });

  test('chocolate nobody has named getting too hot calls back whoever is looking at past runs', async () => {
    const { page, bowl } = await show(START, TABLET, '#/runs');
    await page.locator('.run-row').first().waitFor();
    bowl.say(CAREFUL[2]!);
    await page.locator('main.start .headline-band').waitFor();
  });

  test('a simulated bowl says so for as long as it lasts', async () => {
    const { page } = await show(greetingAt({ min: 12, simulated: true }));
    expect(await page.locator('.ribbon').innerText()).toBe('Simulated: no thermometer is read.');
    expect(await page.locator('.age').innerText()).toMatch(/^Simulated/);
  });

  test('a path that is longer than a narrow screen is wide stays on it, and its end can be read', async () => {
    const path = '/dev/serial/by-id/usb-Invented_Instruments_Kitchen_Probe_0123456789ABCDEF-if00-port0';
    const link = { state: 'up', label: path, why: `${path} is open, but says nothing. Is it switched on?` } as const;
    const label = `Invented Instruments, ${path}`;
    const port = { path, label, identity: { vendorId: '1a86', productId: '7523' } };
    const thermometer = { thermometer: 'usb:a', link, simulated: false, mayPutAway: false, channels: [] };
    const { page } = await show(
      [...START.slice(0, 2), { ...(START[2] as NowMessage), reading: null, lastLine: null, link }],
      { ...TABLET, viewport: { width: 320, height: 568 } },
      '',
      READY,
      {
        '/api/thermometers': [port],
        '/api/thermometers/all': { ports: [port], why: '' },
        '/api/bowls/bowl-1': { link },
        '/api/bench': { bowls: [{ bowl: 'bowl-1', name: null }], bowlsMost: 4, thermometers: [thermometer] },
      },
    );
    await page.getByRole('heading', { name: /^\/dev\/….*ABCDEF-if00-port0 is open, but says nothing\.$/ }).waitFor();
    expect(await widthFaults(page)).toEqual([]);
    for (const place of ['thermometer', 'bench']) {
      await page.evaluate((to) => (location.hash = `#/${to}`), place);
      await page.getByRole('button', { name: label }).waitFor();
      expect(await widthFaults(page), place).toEqual([]);
      await picture(page, `long-path-${place}`, { fullPage: true });
    }
  });

  test('the bench says which bowl each simulated thermometer is in', async () => {
    const bowls = ['bowl-1', 'bowl-2'];
    const thermometers = bowls.map((bowl) => ({
      thermometer: bowl,
      simulated: true,
      link: { state: 'simulated' },
      lastLine: '44.00',
      channels: [{ channel: '1', valueC: 44, role: 'chocolate', bowls: [bowl] }],
      mayPutAway: false,
    }));
    const bench = { bowls: bowls.map((bowl) => ({ bowl, name: null })), bowlsMost: 4, channelsMost: 8, thermometers };
    const { page } = await show(START, TABLET, '#/bench', READY, { '/api/bench': bench });
    await page.getByText('Simulated: the chocolate in Bowl 1.').waitFor();
    await page.getByText('Simulated: the chocolate in Bowl 2.').waitFor();
  });

  test('an unchecked thermometer is said to be one at the start and beside the number; a checked one and a simulated bowl are not', async () => {
    const { page, bowl } = await show(START);
    await page.getByText('Your thermometer is unchecked').waitFor();
    for (const message of greetingAt({ min: 12 })) bowl.say(message);
    await page.locator('.age', { hasText: 'unchecked' }).waitFor();
    const check = { checkedAtWall: '2026-11-24T12:00:00Z', isOld: false, biasC: 0.2, noiseC: 0.1, withinC: 0.25 };
    bowl.say(nowAt({ min: 12, now: { check } }));
    await page.locator('.age', { hasNotText: 'unchecked' }).waitFor();
    for (const message of START) bowl.say(message.kind === 'welcome' ? { ...message, simulated: true } : message);
    await page.getByText('Before you begin').waitFor();
    expect(await page.getByText('Your thermometer is unchecked').count()).toBe(0);
    expect(await page.getByRole('link', { name: 'Check the thermometer' }).count()).toBe(0);
  });
});
