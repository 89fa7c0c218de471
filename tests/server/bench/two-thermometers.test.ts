/**
 * Two thermometers on pseudo-terminals, listed as if by USB, behind the real server: asked, put where they belong, known at the next start, each
 * bowl with a run of its own.
 */
import { expect, onTestFinished, test } from 'vitest';
import { readConfig } from '../../../server/config.ts';
import { startServer } from '../../../server/main.ts';
import { installedPlaces } from '../../../server/places.ts';
import type { BowlStatus } from '../../../server/session/status.ts';
import type { ListPorts } from '../../../server/source/serial-port.ts';
import { asks } from '../../support/asks.ts';
import { openPty } from '../../support/pty.ts';
import { freshFolder } from '../../support/store.ts';

/** A thermometer that says its temperature, with a little stirring in it, five times a second. */
function speaking(valueC: number) {
  const pty = openPty();
  let count = 0;
  const timer = setInterval(() => {
    count++;
    // Unplugged meanwhile: nobody hears it.
    void pty.write(`${(valueC + ((count % 3) - 1) * 0.05).toFixed(2)}\r\n`).catch(() => {});
  }, 200);
  onTestFinished(() => {
    clearInterval(timer);
    pty.unplug();
  });
  return pty.path;
}

function listed(serialNumber: string, path: string) {
  return { path, vendorId: '1a86', productId: '7523', serialNumber, position: null, maker: 'Workshop' };
}

async function started(folder: string, list: ListPorts) {
  const config = readConfig(['--listen', '127.0.0.1:0', '--data', folder, '--no-bell'], { env: {}, platform: 'linux' });
  if (!config.ok) throw new Error(config.complaint);
  const result = await startServer(config.config, installedPlaces(), list);
  if (!result.ok) throw new Error(result.complaints.join('\n'));
  onTestFinished(() => result.server.stop());
  const door = asks(result.server.address);
  const status = async (bowl: string): Promise<BowlStatus> => (await door.get(`/api/bowls/${bowl}`)).body as BowlStatus;
  const start = async (bowl: string): Promise<string | null> => {
    await door.post(`/api/bowls/${bowl}/commands`, { name: 'choose-profile', profile: 'dark', condition: 'solid' });
    await door.post(`/api/bowls/${bowl}/commands`, { name: 'start', phase: 'melt' });
    return (await status(bowl)).info?.run ?? null;
  };
  return { ...door, status, start, stop: () => result.server.stop() };
}

interface TakenAnswer {
  readonly thermometers: readonly {
    readonly thermometer: string;
    readonly link: { readonly asks?: string | null };
    readonly channels: readonly { readonly valueC: number | null }[];
  }[];
}

test('two thermometers, two bowls: a question, then a run in each, and both go on after a restart with nothing asked', async () => {
  const [left, right] = [speaking(30), speaking(33)];
  const list: ListPorts = () => Promise.resolve({ ok: true, ports: [listed('LEFT', left), listed('RIGHT', right)] });
  const folder = freshFolder();
  const first = await started(folder, list);
  expect((await first.status('bowl-1')).link).toMatchObject({
    state: 'looking',
    why: expect.stringContaining('Which one'),
  });
  expect((await first.get('/api/thermometers')).body).toMatchObject([{ path: left }, { path: right }]);

  await first.post('/api/thermometers', { path: right });
  await expect.poll(async () => (await first.status('bowl-1')).link.state, { timeout: 10_000 }).toBe('up');
  expect((await first.get('/api/thermometers')).body).toMatchObject([{ path: left }]);

  expect(await first.post('/api/bench/bowls', { name: 'milk, left' })).toMatchObject({
    status: 201,
    body: { bowl: 'bowl-2' },
  });
  const nowhere = await first.post('/api/thermometers', { path: left, bowl: 'bowl-9' });
  expect(nowhere).toMatchObject({ status: 409, body: { path: 'bowl' } });
  expect((await first.get('/api/thermometers')).body, 'nothing was opened for it').toMatchObject([{ path: left }]);
  await first.post('/api/thermometers', { path: left, bowl: null });
  const said = async (): Promise<unknown> =>
    ((await first.get('/api/bench')).body as TakenAnswer).thermometers.map(({ channels }) =>
      Math.round(channels[0]!.valueC ?? 0),
    );
  await expect.poll(said, { timeout: 10_000 }).toEqual([33, 30]);
  const asked = async (): Promise<unknown> =>
    ((await first.get('/api/bench')).body as TakenAnswer).thermometers.map(({ link }) => link.asks);
  const ofLeft = '/api/thermometers/ask?thermometer=usb%3A1a86%3A7523%3ALEFT';
  const question = { text: 'READ?', ending: 'lf' };
  expect((await first.post(ofLeft, question)).status).toBe(200);
  expect(await asked()).toEqual([null, 'READ?']);
  expect((await first.post('/api/thermometers/ask?thermometer=usb%3Anobody', question)).status).toBe(409);
  expect((await first.remove(ofLeft)).status).toBe(200);
  expect((await first.post('/api/thermometers/ask', question)).status).toBe(200);
  expect(await asked()).toEqual(['READ?', null]);
  expect((await first.remove('/api/thermometers/ask?thermometer=usb%3A1a86%3A7523%3ARIGHT')).status).toBe(200);
  expect(await asked()).toEqual([null, null]);
  const place = { thermometer: 'usb:1a86:7523:LEFT', channel: '1', role: 'chocolate', bowls: ['bowl-2'] };
  expect((await first.post('/api/bench/places', place)).status).toBe(200);
  await expect.poll(async () => (await first.status('bowl-2')).link.state, { timeout: 10_000 }).toBe('up');
  const runs = [await first.start('bowl-1'), await first.start('bowl-2')];
  expect(runs).not.toContain(null);
  await first.stop();

  const second = await started(folder, list);
  for (const [index, bowl] of ['bowl-1', 'bowl-2'].entries()) {
    await expect.poll(async () => (await second.status(bowl)).link.state, { timeout: 10_000 }).toBe('up');
    expect(await second.status(bowl)).toMatchObject({ state: 'going', info: { run: runs[index], resumed: true } });
  }
  expect((await second.get('/api/thermometers')).body).toEqual([]);
});
