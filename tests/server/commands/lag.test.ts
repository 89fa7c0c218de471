/** `bowlside lag`, from the words on the command line to lines and exit code: over real files, and live over a pseudo-terminal. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { describe, expect, onTestFinished, test, vi } from 'vitest';
import { lag, type LagIo } from '../../../server/commands/lag.ts';
import type { Where } from '../../../server/source/serial.ts';
import { PATIENCE_MS } from '../../support/patience.ts';
import { openPty, type Pty } from '../../support/pty.ts';
import { freshFolder } from '../../support/store.ts';

interface Said {
  readonly exit: number;
  readonly out: string[];
  readonly err: string[];
}

/** What it said so far, and the exit code once it has ended. `data`: where the settings are looked for, an empty folder. */
function begin(argv: string[], more: Partial<LagIo> = {}): { out: string[]; err: string[]; ended: Promise<Said> } {
  const out: string[] = [];
  const err: string[] = [];
  const io: LagIo = {
    out: (line) => void out.push(line),
    err: (line) => void err.push(line),
    env: { XDG_DATA_HOME: freshFolder() },
    platform: 'linux',
    stopped: () => new Promise(() => {}),
    ...more,
  };
  return { out, err, ended: lag(argv, io).then((exit) => ({ exit, out, err })) };
}

/** °C so many seconds after the plunge: an exact first-order rise from the room. */
function tempC(afterS: number, lagS: number): number {
  return afterS <= 0 ? 21.3 : 44.6 - 23.3 * Math.exp(-afterS / lagS);
}

function table(rows: readonly (readonly [s: number, tempC: number | null])[]): string {
  const path = join(freshFolder(), 'plunge.csv');
  writeFileSync(
    path,
    ['t_s,chocolate_c', ...rows.map(([s, c]) => `${s},${c === null ? '' : c.toFixed(2)}`)].join('\n'),
  );
  return path;
}

function plungeRows(lagS: number): [number, number][] {
  return Array.from({ length: 301 }, (_, index) => [index / 2, tempC(index / 2 - 30.2, lagS)]);
}

describe('from a table', () => {
  test('says the lag, what it rests on, and the flag to pass last, and ends with 0', async () => {
    const { exit, out, err } = await begin([table(plungeRows(4.2))]).ended;
    expect({ exit, err }).toEqual({ exit: 0, err: [] });
    expect(out[0]).toMatch(/^The probe’s lag is 4\.2 s; .*: 3\.\d to 4\.\d s\.$/);
    expect(out[1]).toMatch(/^63\.2 % of the step from 21\.3 °C to 44\.6 °C took 4\.2 s; .* 2\.303, is 4\.2 s\.$/);
    expect(out.at(-1)).toBe('To use it: --probe-lag 4.2');
  });

  test('empty cells are no readings', async () => {
    const rows = plungeRows(6).flatMap(([s, c]): [number, number | null][] => [
      [s, c],
      [s + 0.1, null],
    ]);
    expect((await begin([table(rows)]).ended).out.at(-1)).toBe('To use it: --probe-lag 6.0');
  });

  test('a rise that is not of first order is said to be none, and which number to use', async () => {
    const rows = Array.from({ length: 501 }, (_, index): [number, number] => {
      const x = Math.max(0, index / 5 - 30.13) / 3;
      return [index / 5, 44.6 - 23.3 * (1 + x) * Math.exp(-x)];
    });
    const { exit, out } = await begin([table(rows)]).ended;
    expect(exit).toBe(0);
    expect(out[2]).toMatch(/^90 % took 2\.\d times as long as 50 %.*The number to use is the one from 90 %/);
    // Two equal lags of 3 s: 90 % after 11.67 s, divided by 2.303.
    expect(Math.abs(Number(out.at(-1)!.replace('To use it: --probe-lag ', '')) - 5.07)).toBeLessThan(0.4);
  });

  test('where it cannot be measured one line says why, and it ends with 1', async () => {
    const resting = Array.from({ length: 60 }, (_, s): [number, number] => [s, 21.3]);
    expect(await begin([table(resting)]).ended).toEqual({
      exit: 1,
      out: [],
      err: [expect.stringContaining('No plunge was seen after the probe had come to rest at 21.3 °C')],
    });
    const quick = resting.map(([s, c]): [number, number] => [s, s < 30 ? c : 44.6]);
    expect((await begin([table(quick)]).ended).err[0]).toMatch(/^The lag is under 1\.0 s\./);
  });
});

describe('words that are wrong end with 2 and one line', () => {
  test.each([
    [['plunge.jsonl'], 'plunge.jsonl: a .csv of readings is wanted'],
    [['/no/such.csv'], 'there is no such file'],
    [['some.csv', '--baud', '9600'], '--baud is not wanted beside some.csv'],
    [['--simulate'], 'there is no option --simulate; npx bowlside lag --help'],
    [['--port', '8080'], 'that is a web address'],
    [['--port', '/dev/ttyUSB0', '--baud', 'fast'], '--baud fast'],
    [['--baud', '9600'], '--baud belongs to a --port'],
  ])('bowlside lag %j', async (argv, part) => {
    const { exit, out, err } = await begin(argv).ended;
    expect({ exit, out, lines: err.length }).toEqual({ exit: 2, out: [], lines: 1 });
    expect(err[0]).toContain(part);
  });
});

test('a table that is wrong is refused at its line', async () => {
  const path = join(freshFolder(), 'broken.csv');
  writeFileSync(path, 't_s,chocolate_c\n0,21\n1,warm\n');
  const { exit, err } = await begin([path]).ended;
  expect(exit).toBe(2);
  expect(err).toEqual([expect.stringContaining('broken.csv, line 3: chocolate_c is')]);
});

describe('live, over a pseudo-terminal', () => {
  /** Speaks every 100 ms until the test is over; what it says is asked for each time. */
  function speaking(says: () => string): Pty {
    const device = openPty();
    const timer = setInterval(() => {
      nowMs += LINE_MS;
      void device.write(`${says()}\r\n`).catch(() => {});
    }, LINE_MS);
    onTestFinished(() => {
      clearInterval(timer);
      device.unplug();
    });
    return device;
  }

  const LINE_MS = 100;
  /** Goes on with each line: a busy machine that holds device and reader up makes no gap in the rise. */
  let nowMs = 0;
  const byLines = { nowMs: () => nowMs };

  const PATIENCE = { timeout: PATIENCE_MS, interval: 20 };

  test('it tells when it is steady, when it has seen the plunge, when it is steady again, and keeps the lag', async () => {
    let plungedMs = Infinity;
    const device = speaking(() => tempC((nowMs - plungedMs) / 1000, 0.8).toFixed(2));
    const kept: [Where, number][] = [];
    const { out, ended } = begin(['--port', device.path], {
      remember: (where, lagS) => kept.push([where, lagS]) > 0,
      clock: byLines,
    });
    await vi.waitFor(() => expect(out.join('\n')).toContain('Steady at 21.3 °C. Now plunge it'), PATIENCE);
    expect(out.slice(0, 4).join('\n')).toMatch(/^Reading .*\n[^]*Hot water scalds/);
    plungedMs = nowMs;
    const { exit, err } = await ended;
    expect({ exit, err }).toEqual({ exit: 0, err: [] });
    expect(
      out.filter((line) => line.startsWith('Reading')),
      'what to do is said once',
    ).toHaveLength(1);
    expect(out.filter((line) => /^(?:Steady|Seen)/.test(line))).toEqual([
      expect.stringContaining('Steady at 21.3 °C. Now plunge it'),
      expect.stringContaining('Seen: it has left 21.3 °C'),
      expect.stringContaining('Steady at 44.6 °C.'),
    ]);
    const [where, lagS] = kept[0]!;
    expect(where).toEqual({ path: device.path });
    // A line may come a turn late.
    expect(Math.abs(lagS - 0.8)).toBeLessThan(0.3);
    expect(out.at(-1)).toBe(`To use it: --probe-lag ${lagS.toFixed(1)} (it is remembered for this thermometer)`);
  });

  test('Ctrl-C ends it at once with 1, and the port is let go', async () => {
    const device = speaking(() => '21.30');
    let stop = (): void => {};
    const stopped = new Promise<void>((resolve) => (stop = resolve));
    const { out, ended } = begin(['--port', device.path], { stopped: () => stopped });
    await vi.waitFor(() => expect(out.length).toBeGreaterThan(0), PATIENCE);
    stop();
    expect(await ended).toMatchObject({ exit: 1, err: ['Stopped; nothing was measured.'] });
    // Locked against others while it is open: that it opens again shows that it was let go.
    const again = begin(['--port', device.path], { longestMs: 300 });
    expect((await again.ended).out[0]).toContain('Reading');
  });

  test('lines that only show over a while how they are to be read are waited for', async () => {
    let n = 0;
    const device = speaking(() => `${7 * n++},21.3${n % 2},45.1${n % 3}`);
    let stop = (): void => {};
    const stopped = new Promise<void>((resolve) => (stop = resolve));
    const { out, err } = begin(['--port', device.path], { stopped: () => stopped });
    await vi.waitFor(() => expect(out.join('\n')).toContain('Steady at 21.3 °C. Now plunge it'), PATIENCE);
    expect(err).toEqual([]);
    stop();
  });

  test('it takes no longer than it may', async () => {
    const device = speaking(() => '21.30');
    const { ended } = begin(['--port', device.path], { longestMs: 500 });
    expect(await ended).toMatchObject({ exit: 1, err: [expect.stringContaining('never steady')] });
  });

  test('an unplugged cable, a port that is not there, and lines without a temperature end it with a reason', async () => {
    const device = openPty();
    const { out, ended } = begin(['--port', device.path]);
    await vi.waitFor(() => expect(out.length).toBeGreaterThan(0), PATIENCE);
    await wait(100);
    device.unplug();
    expect(await ended).toMatchObject({ exit: 1, err: [expect.stringContaining('unplugged')] });
    expect(await begin(['--port', '/dev/no-such-port']).ended).toMatchObject({ exit: 1, out: [] });
    const talking = speaking(() => 'hello');
    expect((await begin(['--port', talking.path]).ended).err).toEqual([
      expect.stringContaining('No temperature can be read'),
    ]);
  });
});
