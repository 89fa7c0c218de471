/** A source at a port in the test's hands: the speed is searched on one opening, and nothing is sent but what was asked for. */
import { afterEach, describe, expect, test, vi } from 'vitest';
import type { RecordedInput } from '../../../server/core/record/input.ts';
import type { LinkState } from '../../../server/core/show/wire.ts';
import type { Query } from '../../../server/source/asking.ts';
import { serialSource, type SerialOptions } from '../../../server/source/serial.ts';
import type { Source } from '../../../server/source/source.ts';
import { USUAL_BAUDS } from '../../../server/source/speed.ts';
import { type MadePort, madePort } from '../../support/made-port.ts';
import { PATIENCE_MS } from '../../support/patience.ts';

const PATIENCE = { timeout: PATIENCE_MS, interval: 5 };

let running: { readonly source: Source; readonly stop: () => void }[] = [];
afterEach(async () => {
  for (const { source, stop } of running) {
    stop();
    await source.close();
  }
  running = [];
});

/** A clock that runs a hundred times as fast as the machine's, so that a search takes a tenth of a second. */
const HURRY = 100;

function heardAt(port: MadePort, more: Partial<SerialOptions> = {}, says: string | null = '31.25\r\n') {
  const startedMs = performance.now();
  const nowMs = (): number => Math.round((performance.now() - startedMs) * HURRY);
  const source = serialSource({
    path: '/dev/made',
    clock: { nowMs },
    open: port.open,
    othersAt: () => Promise.resolve([]),
    asking: { paceMs: 10, timeOutMs: 40, retries: 1, mutePaceMs: 60 },
    // The hurried clock would call a pause of the machine a silence.
    timings: { lostMs: Infinity, staleMs: Infinity },
    ...more,
  });
  const inputs: RecordedInput[] = [];
  const links: LinkState[] = [];
  source.start({ input: (input) => inputs.push(input), link: (state) => links.push(state) });
  const speaking = setInterval(() => says !== null && port.say(says), 10);
  running.push({ source, stop: () => clearInterval(speaking) });
  const lines = (): string[] => inputs.flatMap((input) => (input.kind === 'line' ? [input.text] : []));
  return { source, links, lines };
}

describe('[L9] the speed', () => {
  test.each([9600, 115_200, 4800])(
    'of %d baud is found on one opening, and shown with a line heard at it',
    async (baud) => {
      const port = madePort(baud);
      const found: number[] = [];
      const { links, lines } = heardAt(port, { onBaud: (speed) => found.push(speed) });
      const shown = { state: 'up', label: '/dev/made', baud, sample: '31.25', asks: null };
      await vi.waitFor(() => expect(links.at(-1)).toEqual(shown), PATIENCE);
      expect(port.openings).toEqual([9600]);
      expect(found).toEqual([baud]);
      expect(new Set(lines())).toEqual(new Set(['31.25']));
    },
  );

  test('that was remembered is the first, and that was named the only one', async () => {
    const remembered = madePort(57_600);
    const { links } = heardAt(remembered, { firstBaud: 57_600 });
    await vi.waitFor(() => expect(links.at(-1)).toMatchObject({ baud: 57_600 }), PATIENCE);
    expect(remembered.speeds).toEqual([57_600]);
    const named = madePort(57_600);
    const { source } = heardAt(named, { baud: 19_200 });
    await new Promise((resolve) => setTimeout(resolve, 200));
    await source.close();
    expect(named.speeds).toEqual([19_200]);
  });

  test('that is none of the six is told of as unsure, and what comes is passed on for all to see', async () => {
    const port = madePort(250_000);
    const { links, lines } = heardAt(port, {}, 'chocolate: 31.25, bath: 40.50\r\n');
    const unsure = /no text at any usual speed\. Give the speed/;
    await vi.waitFor(
      () => expect(links.at(-1)).toMatchObject({ state: 'looking', why: expect.stringMatching(unsure) as string }),
      PATIENCE,
    );
    expect(port.openings).toEqual([9600]);
    expect(port.speeds.at(-1)).toBe(9600);
    expect(lines()).not.toContain('chocolate: 31.25, bath: 40.50');
  });
});

test('[L9] a port that refuses every speed is given up, and not asked on and on', async () => {
  const port = madePort(115_200);
  const tried: number[] = [];
  const open: typeof port.open = async (path, baud, listener) => {
    const opened = await port.open(path, baud, listener);
    if (!opened.ok) return opened;
    const setBaud = (other: number): Promise<boolean> => {
      tried.push(other);
      return Promise.resolve(false);
    };
    return { ok: true, port: { ...opened.port, setBaud } };
  };
  const { links } = heardAt(port, { open });
  const why = expect.stringContaining('no text at any usual speed') as string;
  await vi.waitFor(() => expect(links.at(-1)).toMatchObject({ state: 'looking', why }), PATIENCE);
  const { length } = tried;
  expect(length).toBeLessThanOrEqual(USUAL_BAUDS.length + 1);
  await new Promise((resolve) => setTimeout(resolve, 250));
  expect(tried.length).toBeLessThanOrEqual(length + 1);
});

describe('[L10] a thermometer that speaks only when asked', () => {
  const READ: Query = { text: 'READ?', ending: 'crlf' };

  test('is never asked without a yes', async () => {
    const port = madePort(9600);
    const { links } = heardAt(port, {}, null);
    await vi.waitFor(() => expect(links.at(-1)).toMatchObject({ state: 'up', asks: null }), PATIENCE);
    await new Promise((resolve) => setTimeout(resolve, 200));
    expect(port.sent).toEqual([]);
  });

  test('is asked with the question and the end that were chosen, one at a time, and its answers are lines', async () => {
    const port = madePort(9600);
    let outstanding = 0;
    port.answer(() => {
      outstanding++;
      expect(outstanding).toBe(1);
      setImmediate(() => outstanding--);
      return '+3.12500000E+01\n';
    });
    const { source, lines, links } = heardAt(port, { baud: 9600 }, null);
    await vi.waitFor(() => expect(links.at(-1)?.state).toBe('up'), PATIENCE);
    source.ask!(READ);
    expect(links.at(-1)).toMatchObject({ asks: 'READ?' });
    await vi.waitFor(() => expect(lines().length).toBeGreaterThan(3), PATIENCE);
    expect(new Set(port.sent)).toEqual(new Set(['READ?\r\n']));
    expect(new Set(lines())).toEqual(new Set(['+3.12500000E+01']));
    source.ask!(null);
    const { length } = port.sent;
    await new Promise((resolve) => setTimeout(resolve, 100));
    expect(port.sent).toHaveLength(length);
    expect(links.at(-1)).toMatchObject({ asks: null });
  });

  test('is found at its speed by its answers, on one opening', async () => {
    const port = madePort(19_200);
    port.answer(() => '31.25\r\n');
    const queryAt = () => Promise.resolve(READ);
    const { links } = heardAt(port, { queryAt }, null);
    await vi.waitFor(() => expect(links.at(-1)).toMatchObject({ state: 'up', baud: 19_200, asks: 'READ?' }), PATIENCE);
    expect(port.openings).toEqual([9600]);
  });

  test('and does not answer is asked again, then more seldom, and that is said', async () => {
    const port = madePort(9600);
    const { links } = heardAt(port, { baud: 9600, queryAt: () => Promise.resolve(READ) }, null);
    const why = expect.stringContaining('It does not answer to “READ?”') as string;
    await vi.waitFor(() => expect(links.at(-1)).toMatchObject({ state: 'looking', why, asks: 'READ?' }), PATIENCE);
    expect(port.sent).toHaveLength(2);
    port.answer(() => '31.25\r\n31.25\r\n');
    await vi.waitFor(() => expect(links.at(-1)).toMatchObject({ state: 'up', asks: 'READ?' }), PATIENCE);
  });

  test('is asked anew at each opening, as far as the yes holds for what is open there then', async () => {
    const port = madePort(9600);
    const asked: string[] = [];
    let yes: Query | null = READ;
    const queryAt = (path: string) => {
      asked.push(path);
      return Promise.resolve(yes);
    };
    const { links } = heardAt(
      port,
      { baud: 9600, queryAt, timings: { lostMs: 1500, lookMs: 5, retryFirstMs: 5 } },
      null,
    );
    await vi.waitFor(() => expect(port.sent.length).toBeGreaterThan(0), PATIENCE);
    yes = null;
    await vi.waitFor(() => expect(asked).toHaveLength(2), PATIENCE);
    const { length } = port.sent;
    await new Promise((resolve) => setTimeout(resolve, 100));
    expect(port.sent).toHaveLength(length);
    expect(links.at(-1)).toMatchObject({ asks: null });
  });
});
