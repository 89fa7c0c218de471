import { describe, expect, onTestFinished, test } from 'vitest';
import type { LinkState } from '../../../server/core/show/wire.ts';
import type { FoundPort, PortIdentity, UsbPort } from '../../../server/source/ports.ts';
import type { Source } from '../../../server/source/source.ts';
import { Thermometer, type ThermometerOptions } from '../../../server/bench/thermometer.ts';

function port(path: string): UsbPort {
  const identity = { vendorId: '1a86', productId: '7523', serialNumber: null, position: '1-1', path };
  return { path, label: `Workshop, ${path}`, identity };
}

const ONE = port('/dev/ttyUSB0');
const OTHER = port('/dev/ttyUSB1');
const NONE: FoundPort = { kind: 'none', why: 'No USB serial port is plugged in.' };

/** A thermometer among ports that the test plugs in and out; `said` is what happened, in order. */
function among(found: FoundPort, more: Partial<ThermometerOptions> = {}) {
  const said: string[] = [];
  const links: LinkState[] = [];
  const plugged = { found };
  const source = (id: string, simulated: boolean): Source => ({
    id,
    simulated,
    start: () => void said.push(`start ${id}`),
    close: () => {
      said.push(`close ${id}`);
      return Promise.resolve();
    },
  });
  const thermometer = new Thermometer({
    wanted: { kind: 'any' },
    remembered: null,
    find: () => Promise.resolve(plugged.found),
    locate: () => Promise.resolve(plugged.found),
    all: () => Promise.resolve({ usb: [ONE, OTHER], others: [{ path: '/dev/ttyS0', label: '/dev/ttyS0' }], why: '' }),
    rememberQuery: (where, query) => {
      said.push(`asked ${'path' in where ? where.path : where.identity.path} ${query?.text ?? 'nothing'}`);
      return Promise.resolve();
    },
    remember: ({ path }) => void said.push(`remember ${path}`),
    serial: (where) => source('path' in where ? where.path : where.identity.path, false),
    simulated: () => source('simulated', true),
    onSource: ({ id }) => void said.push(`use ${id}`),
    onLink: (state) => void links.push(state),
    onInput: () => {},
    lookAgainMs: 1,
    ...more,
  });
  onTestFinished(() => thermometer.close());
  return { thermometer, said, links, plugged };
}

describe('which thermometer is read', () => {
  test('the port that was named, without looking for others', async () => {
    const { thermometer, said } = among(NONE, { wanted: { kind: 'path', path: '/dev/pts/7' } });
    await thermometer.start();
    expect(said).toEqual(['use /dev/pts/7', 'start /dev/pts/7']);
  });

  test('the only one there is, and it is remembered', async () => {
    const { thermometer, said } = among({ kind: 'one', ...ONE });
    await thermometer.start();
    expect(said).toEqual(['remember /dev/ttyUSB0', 'use /dev/ttyUSB0', 'start /dev/ttyUSB0']);
  });

  test('the simulated bowl where there is none, until one is plugged in', async () => {
    const { thermometer, said, plugged } = among(NONE);
    await thermometer.start();
    expect(said).toEqual(['use simulated', 'start simulated']);
    plugged.found = { kind: 'one', ...ONE };
    await expect
      .poll(() => said.slice(2))
      .toEqual(['remember /dev/ttyUSB0', 'close simulated', 'use /dev/ttyUSB0', 'start /dev/ttyUSB0']);
  });

  test('none while a known one is away: no simulated bowl in its place', async () => {
    const { thermometer, said, links, plugged } = among(NONE, { remembered: ONE.identity });
    await thermometer.start();
    expect(said).toEqual([]);
    expect(links[0]).toEqual({ state: 'looking', why: expect.stringContaining('Waiting for your thermometer') });
    plugged.found = { kind: 'one', ...ONE };
    await expect.poll(() => said).toContain('start /dev/ttyUSB0');
  });

  test('none of several: a person has to choose', async () => {
    const { thermometer, said, links } = among({ kind: 'several', ports: [ONE, OTHER] });
    await thermometer.start();
    expect(said).toEqual([]);
    expect(links[0]).toMatchObject({ state: 'looking', why: expect.stringContaining(OTHER.label) });
    expect(thermometer.choices).toEqual([ONE, OTHER]);
    expect(await thermometer.choose('/dev/ttyS7')).toBe(false);
    expect(await thermometer.choose(OTHER.path)).toBe(true);
    expect(said).toEqual(['remember /dev/ttyUSB1', 'use /dev/ttyUSB1', 'start /dev/ttyUSB1']);
    expect(thermometer.choices).toEqual([]);
  });

  test('the simulated bowl goes on while a person has to choose, and after that no port is opened by itself', async () => {
    const { thermometer, said, plugged } = among(NONE);
    await thermometer.start();
    plugged.found = { kind: 'several', ports: [ONE, OTHER] };
    await expect.poll(() => thermometer.choices).toHaveLength(2);
    expect(said).toEqual(['use simulated', 'start simulated']);
    await thermometer.choose(ONE.path);
    await thermometer.close();
    expect(said.filter((words) => words.startsWith('start'))).toEqual(['start simulated', 'start /dev/ttyUSB0']);
  });

  test('any port there is may be chosen, one without a USB identity too, which is not remembered', async () => {
    const { thermometer, said } = among({ kind: 'one', ...ONE });
    await thermometer.start();
    expect((await thermometer.all()).ports.map(({ path }) => path)).toEqual([ONE.path, OTHER.path, '/dev/ttyS0']);
    expect(await thermometer.choose('/dev/ttyS0')).toBe(true);
    expect(said.slice(3)).toEqual(['close /dev/ttyUSB0', 'use /dev/ttyS0', 'start /dev/ttyS0']);
  });

  test('one that is open already is not opened anew: that could restart it', async () => {
    let tell: (state: LinkState) => void = () => {};
    const opened: string[] = [];
    const serial = (): Source => ({
      id: 'usb',
      simulated: false,
      start: (listener) => {
        opened.push('start');
        tell = (state) => listener.link(state);
      },
      close: () => Promise.resolve(),
    });
    const { thermometer } = among({ kind: 'one', ...ONE }, { serial });
    await thermometer.start();
    tell({ state: 'up', label: ONE.label });
    expect(await thermometer.choose(ONE.path)).toBe(true);
    expect(opened).toEqual(['start']);
    tell({ state: 'down', why: 'gone', retryInMs: null });
    await thermometer.choose(ONE.path);
    expect(opened).toEqual(['start', 'start']);
  });

  test('[L7] what a thermometer that is looked for again could be is a choice', async () => {
    let look: (identity: PortIdentity) => Promise<FoundPort> = () => Promise.reject(new Error('never asked'));
    const { thermometer, plugged } = among(
      { kind: 'one', ...ONE },
      {
        serial: (_, locate) => {
          look = locate;
          return { id: 'usb', simulated: false, start: () => {}, close: () => Promise.resolve() };
        },
      },
    );
    await thermometer.start();
    plugged.found = { kind: 'several', ports: [OTHER] };
    await look(ONE.identity);
    expect(thermometer.choices).toEqual([OTHER]);
    plugged.found = { kind: 'one', ...ONE };
    await look(ONE.identity);
    expect(thermometer.choices).toEqual([]);
  });

  test('[L10] a question is for what is open, and there is none for the simulated bowl', async () => {
    const { thermometer, said } = among(NONE);
    await thermometer.start();
    expect(await thermometer.ask({ text: 'READ?', ending: 'lf' })).toBe(false);
    const asked: (string | null)[] = [];
    const serial = (): Source => ({
      id: 'usb',
      simulated: false,
      start: () => {},
      ask: (query) => void asked.push(query?.text ?? null),
      close: () => Promise.resolve(),
    });
    const real = among({ kind: 'one', ...ONE }, { serial });
    await real.thermometer.start();
    expect(await real.thermometer.ask({ text: 'READ?', ending: 'lf' })).toBe(true);
    expect(await real.thermometer.ask(null)).toBe(true);
    expect(asked).toEqual(['READ?', null]);
    expect(real.said.filter((each) => each.startsWith('asked'))).toEqual([
      'asked /dev/ttyUSB0 READ?',
      'asked /dev/ttyUSB0 nothing',
    ]);
    expect(said.filter((each) => each.startsWith('asked'))).toEqual([]);
  });

  test('closing while it still looks starts nothing', async () => {
    let answer: (found: FoundPort) => void = () => {};
    const find = (): Promise<FoundPort> => new Promise((resolve) => (answer = resolve));
    const { thermometer, said } = among(NONE, { find });
    const starting = thermometer.start();
    const closing = thermometer.close();
    answer({ kind: 'one', ...ONE });
    await Promise.all([starting, closing]);
    expect(said).toEqual([]);
  });
});
