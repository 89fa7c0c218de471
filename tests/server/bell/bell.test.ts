/** The host rings where no page sounds: when, how often, until when, and what the command is told. */
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, onTestFinished, test, vi } from 'vitest';
import { Bell, MAX_RINGS, RING_EVERY_MS } from '../../../server/bell/bell.ts';
import { bellTrouble } from '../../../server/bell/check.ts';
import { BellCommand, commandWords } from '../../../server/bell/command.ts';
import type { Rung } from '../../../server/bell/ringer.ts';
import { terminalBell } from '../../../server/bell/terminal.ts';
import { Live } from '../../../server/live.ts';
import { UNTENDED_MS } from '../../../server/core/show/resting.ts';
import { PATIENCE_MS } from '../../support/patience.ts';
import { type Bowl, BOWL, openBowl, openKitchen } from '../../support/server.ts';
import { doorkeeper } from '../../support/doorkeeper.ts';
import { Page } from '../../support/socket.ts';
import { freshFolder } from '../../support/store.ts';

/** A bell on a real session, looked at once a second of the bowl's clock. */
class Host {
  readonly rung: (Rung & { readonly atMs: number })[] = [];
  audible = 0;
  readonly #bowl: Bowl;
  readonly #bell: Bell;

  constructor(bowl: Bowl) {
    this.#bowl = bowl;
    const { session, clock } = bowl;
    const ring = (rung: Rung): void => void this.rung.push({ ...rung, atMs: clock.nowMs() });
    this.#bell = new Bell({ session, clock, audible: () => this.audible, ringers: [{ ring, close: () => {} }] });
    this.#bell.start();
    onTestFinished(() => this.#bell.close());
  }

  get isLeftAlone(): boolean {
    return this.#bell.isLeftAlone;
  }

  /** A reading a second. */
  ramp(fromC: number, toC: number, seconds: number): void {
    for (let i = 1; i <= seconds; i++) {
      this.#bowl.reads(fromC + ((toC - fromC) * i) / seconds);
      this.#bell.look();
    }
  }

  /** Seconds without a reading. */
  waits(seconds: number): void {
    for (let i = 0; i < seconds; i++) {
      this.#bowl.waits(1);
      this.#bell.look();
    }
  }

  /** Seconds between one ring and the next. */
  get apartS(): readonly number[] {
    return this.rung.slice(1).map(({ atMs }, i) => (atMs - this.rung[i]!.atMs) / 1000);
  }
}

/** Tempered dark chocolate at the work, then over its ceiling of 32.5 °C. */
function overshooting(): { bowl: Bowl; host: Host } {
  const { bowl, host } = working();
  host.ramp(31.5, 33, 30);
  expect(raised(bowl)).toContain('overshoot');
  return { bowl, host };
}

function working(): { bowl: Bowl; host: Host } {
  const bowl = openBowl();
  const host = new Host(bowl);
  bowl.choose('tempered');
  host.ramp(31.5, 31.5, 20);
  return { bowl, host };
}

function raised(bowl: Bowl): readonly string[] {
  const events = bowl.told.flatMap((message) => (message.kind === 'news' ? message.events : []));
  return events.flatMap((event) => (event.kind === 'alarm-raised' ? [event.alarm] : []));
}

describe('with no page that sounds', () => {
  test('the host rings within a second of the alarm, with its name and what to do', () => {
    const { host } = overshooting();
    expect(host.rung.at(-1)).toMatchObject({
      alarm: 'overshoot',
      severity: 'warning',
      words: 'Over the ceiling of 32.5 °C. Off the heat, and stir.',
    });
  });

  test('again and again until it is seen: a warning every ten seconds, a critical one every five', () => {
    const { bowl, host } = overshooting();
    host.rung.length = 0;
    host.ramp(33, 33, 45);
    expect(host.apartS.length).toBeGreaterThanOrEqual(3);
    expect(host.apartS.every((s) => s === RING_EVERY_MS.warning / 1000)).toBe(true);
    host.ramp(33, 34.6, 20);
    host.rung.length = 0;
    host.ramp(34.6, 34.6, 30);
    expect(raised(bowl)).toContain('temper-lost');
    host.rung.length = 0;
    host.ramp(34.6, 34.6, 30);
    expect(host.rung.every(({ alarm, severity }) => alarm === 'temper-lost' && severity === 'critical')).toBe(true);
    expect(host.apartS.length).toBeGreaterThanOrEqual(4);
    expect(host.apartS.every((s) => s === RING_EVERY_MS.critical / 1000)).toBe(true);
    for (const alarm of ['temper-lost', 'overshoot', 'overshoot-ahead'] as const)
      bowl.says({ name: 'acknowledge', alarm });
    host.rung.length = 0;
    host.ramp(34.6, 34.6, 60);
    expect(host.rung).toEqual([]);
  });

  test('until it is over', () => {
    const { host } = overshooting();
    host.ramp(33, 31.6, 60);
    host.rung.length = 0;
    host.ramp(31.6, 31.6, 60);
    expect(host.rung).toEqual([]);
  });

  test('quietened it rests for two minutes, and a worse one rings all the same', () => {
    const { bowl, host } = overshooting();
    for (const alarm of ['overshoot', 'overshoot-ahead'] as const) bowl.says({ name: 'quieten', alarm });
    host.rung.length = 0;
    host.ramp(33, 33, 30);
    expect(host.rung).toEqual([]);
    host.ramp(33, 34.8, 60);
    expect(new Set(host.rung.map(({ alarm }) => alarm))).toEqual(new Set(['temper-lost']));
    bowl.says({ name: 'acknowledge', alarm: 'temper-lost' });
    host.rung.length = 0;
    host.ramp(34.8, 33, 60);
    expect(host.rung.map(({ alarm }) => alarm)).toContain('overshoot');
  });

  test(`not for ever: ${MAX_RINGS} times, and then no more`, () => {
    const { host } = overshooting();
    host.ramp(33, 33, 60);
    const before = host.rung.filter(({ alarm }) => alarm === 'overshoot').length;
    host.ramp(33, 33, (MAX_RINGS + 20) * (RING_EVERY_MS.warning / 1000));
    expect(host.rung.filter(({ alarm }) => alarm === 'overshoot')).toHaveLength(MAX_RINGS);
    expect(before).toBeLessThan(MAX_RINGS);
  });

  test('below-working is a notice and rings nobody', () => {
    const { bowl, host } = working();
    host.ramp(31.5, 29.5, 120);
    host.ramp(29.5, 29.5, 60);
    expect(raised(bowl)).toContain('below-working');
    expect(host.rung.map(({ alarm }) => alarm)).not.toContain('below-working');
  });

  test('chocolate nobody has named, too hot for the most delicate, rings too', () => {
    const bowl = openBowl();
    const host = new Host(bowl);
    host.ramp(40, 49, 60);
    host.ramp(49, 49, 20);
    expect(host.rung[0]).toMatchObject({
      severity: 'warning',
      words: expect.stringContaining('nobody has said which'),
    });
  });
});

test('one page that sounds is enough for the host to be still; when it goes, the host rings', () => {
  const { bowl, host } = working();
  host.audible = 1;
  host.ramp(31.5, 33, 30);
  host.ramp(33, 33, 30);
  expect(raised(bowl)).toContain('overshoot');
  expect(host.rung).toEqual([]);
  host.audible = 0;
  host.ramp(33, 33, 2);
  expect(host.rung).toHaveLength(1);
});

test('a run that was going before the bell began is rung for too', () => {
  const bowl = openBowl();
  bowl.choose('tempered');
  bowl.ramp(31.5, 31.5, 20);
  bowl.ramp(31.5, 33, 30);
  const host = new Host(bowl);
  host.ramp(33, 33, 3);
  expect(host.rung).toHaveLength(1);
});

describe('a bowl left overnight', () => {
  const HOUR_S = UNTENDED_MS / 1000;

  test('grown cold with nobody near, rings nobody when its thermometer dies; a tap, and the next one rings', () => {
    const { bowl, host } = working();
    host.ramp(31.5, 24, HOUR_S);
    host.ramp(24, 23.5, 1200);
    expect(host.isLeftAlone).toBe(true);
    host.rung.length = 0;
    host.waits(900);
    expect(raised(bowl)).toContain('probe-silent');
    expect(host.rung).toEqual([]);
    bowl.says({ name: 'act', act: 'stirred' });
    host.waits(20);
    expect(host.isLeftAlone).toBe(false);
    expect(host.rung.map(({ alarm }) => alarm)).toContain('probe-silent');
  });

  test('who dips for two hours and taps nothing hears that the plug came out', () => {
    const { host } = working();
    for (let i = 0; i < 12; i++) {
      host.ramp(31.4, 31.7, 300);
      host.ramp(31.7, 31.4, 300);
    }
    host.rung.length = 0;
    host.waits(30);
    expect(host.isLeftAlone).toBe(false);
    expect(host.rung[0]).toMatchObject({ alarm: 'probe-silent' });
  });
});

describe('what a page says of itself', () => {
  async function dialled(): Promise<{ page: Page; live: { audible(bowl: string): number } }> {
    const { http, live } = await openKitchen();
    const page = new Page(http.address);
    await page.dial();
    await page.first('now');
    return { page, live };
  }

  test('counts until it says otherwise or goes', async () => {
    const { page, live } = await dialled();
    expect(live.audible(BOWL)).toBe(0);
    page.socket.send('{"kind":"alive","audible":true}');
    await expect.poll(() => live.audible(BOWL)).toBe(1);
    page.socket.send('{"kind":"alive"}');
    await page.first('heartbeat');
    expect(live.audible(BOWL)).toBe(1);
    expect(live.audible('another')).toBe(0);
    page.socket.send('{"kind":"alive","audible":false}');
    await expect.poll(() => live.audible(BOWL)).toBe(0);
    page.socket.send('{"kind":"alive","audible":true}');
    await expect.poll(() => live.audible(BOWL)).toBe(1);
    page.leave();
    await expect.poll(() => live.audible(BOWL)).toBe(0);
  });

  test.each(['{"kind":"alive","audible":"yes"}', '{"kind":"alive","audible":null}', '{"kind":"alive","loud":true}'])(
    'is refused in any other shape: %s',
    async (text) => {
      const { page, live } = await dialled();
      page.socket.send(text);
      expect(await page.first('refused')).toEqual({ kind: 'refused', reason: 'protocol' });
      expect(live.audible(BOWL)).toBe(0);
    },
  );

  test('and is told when nothing should sound', async () => {
    const { bowl, http, live, epoch } = await openKitchen();
    await live.close();
    const sessions = new Map([[BOWL, bowl.session]]);
    const isLeftAlone = (which: string): boolean => which === BOWL;
    const { server, door } = http;
    const { gate } = doorkeeper();
    const quiet = new Live({ server, door, gate, epoch, clock: bowl.clock, sessions, isLeftAlone });
    onTestFinished(() => quiet.close());
    const page = new Page(http.address);
    await page.dial();
    expect(await page.first('now')).toMatchObject({ isLeftAlone: true });
  });
});

test('the terminal bell is for terminals only', () => {
  const written: string[] = [];
  const write = (text: string): boolean => written.push(text) > 0;
  const rung: Rung = { alarm: 'overshoot', severity: 'warning', words: '' };
  terminalBell({ write, isTTY: false }).ring(rung);
  expect(written).toEqual([]);
  terminalBell({ write, isTTY: true }).ring(rung);
  expect(written).toEqual(['\u0007']);
});

describe('the command', () => {
  const RUNG: Rung = { alarm: 'scorch', severity: 'critical', words: 'Over "it"; $HOME `x`' };

  function script(text: string): { words: readonly string[]; file: string } {
    const folder = join(freshFolder(), 'a folder');
    mkdirSync(folder);
    const file = join(folder, 'said');
    writeFileSync(join(folder, 'ring.mjs'), `import { appendFileSync } from 'node:fs';\n${text}`);
    return { words: [process.execPath, join(folder, 'ring.mjs'), file], file };
  }

  function command(words: readonly string[], withinMs?: number): { bell: BellCommand; complaints: string[] } {
    const complaints: string[] = [];
    const bell = new BellCommand(words, (line) => complaints.push(line), withinMs);
    onTestFinished(() => bell.close());
    return { bell, complaints };
  }

  function said(file: string): string {
    try {
      return readFileSync(file, 'utf8');
    } catch {
      return '';
    }
  }

  test('is told the alarm as it is, and no shell reads it', async () => {
    const { words, file } = script(
      'const { BOWLSIDE_ALARM: a, BOWLSIDE_SEVERITY: s, BOWLSIDE_WORDS: w } = process.env;\n' +
        'appendFileSync(process.argv[2], [a, s, w].join("|"));',
    );
    const { bell, complaints } = command(words);
    bell.ring(RUNG);
    await expect.poll(() => said(file)).toBe(`scorch|critical|${RUNG.words}`);
    expect(complaints).toEqual([]);
  });

  test('runs once at a time, is ended when it takes too long, and that is said once', async () => {
    const file = join(freshFolder(), 'said');
    // A shell is under way in no time, however busy the machine: it writes long before it is ended.
    const { bell, complaints } = command(['/bin/sh', '-c', 'printf x >> "$0"; exec sleep 60', file], 3_000);
    bell.ring(RUNG);
    bell.ring(RUNG);
    expect(complaints).toEqual([]);
    await expect.poll(() => complaints).toEqual([expect.stringContaining('ended by SIGKILL')]);
    expect(said(file)).toBe('x');
    bell.ring(RUNG);
    await expect.poll(() => said(file)).toBe('xx');
  });

  test.each([
    ['a program that is not there', ['/no/such/bell'], 'ENOENT'],
    ['one that ends badly', [process.execPath, '-e', 'process.exit(3)'], 'ended with 3'],
    ['words that no system takes', [process.execPath, 'a\0b'], 'null bytes'],
  ])('%s is said once, and throws nothing', async (_, words, part) => {
    const { bell, complaints } = command(words);
    bell.ring(RUNG);
    await vi.waitFor(() => expect(complaints).toEqual([expect.stringContaining(part)]), PATIENCE_MS);
    bell.ring(RUNG);
    await new Promise((resolve) => setTimeout(resolve, 300));
    expect(complaints).toHaveLength(1);
  });

  test('is looked for at the start: by name where the system looks, by its place as it is', () => {
    const folder = freshFolder();
    writeFileSync(join(folder, 'ring'), '#!/bin/sh\n', { mode: 0o755 });
    writeFileSync(join(folder, 'horn.wav'), 'x', { mode: 0o644 });
    mkdirSync(join(folder, 'folder'));
    const looking = { folders: ['/no/such/folder', folder], endings: [''] };
    expect(bellTrouble(['ring', 'twice'], looking)).toBeNull();
    expect(bellTrouble([join(folder, 'ring')], looking)).toBeNull();
    expect(bellTrouble([process.execPath])).toBeNull();
    expect(bellTrouble(['rign'], looking)).toBe(
      'The bell command cannot ring: there is no program rign on this computer.',
    );
    expect(bellTrouble(['folder'], looking)).toContain('no program folder');
    expect(bellTrouble(['/no/such/bell'], looking)).toBe(
      'The bell command cannot ring: there is no program /no/such/bell.',
    );
    // Where there is a file and no folder, and under a name longer than file systems have.
    for (const program of [join(folder, 'horn.wav', 'ring'), `/${'x'.repeat(5_000)}`, `/${'x'.repeat(300)}/ring`])
      expect(bellTrouble([program], looking), program).toContain('no program');
    expect(bellTrouble(['ring'], { ...looking, folders: [join(folder, 'horn.wav'), folder] })).toBeNull();
    const withEndings = { ...looking, endings: ['', '.wav'] };
    expect(bellTrouble(['horn'], withEndings)).toBe(
      `The bell command cannot ring: ${join(folder, 'horn.wav')} may not be run.`,
    );
  });

  test.each([
    ['play bell.wav', ['play', 'bell.wav']],
    ['  play   "three bells.wav" ', ['play', 'three bells.wav']],
    [`say 'off the "heat"' --to="the kitchen"`, ['say', 'off the "heat"', '--to=the kitchen']],
    ['say ""', ['say', '']],
    ['a;b | c', ['a;b', '|', 'c']],
    ['say "off', null],
    ["don't", null],
    ['""', null],
    ['   ', null],
  ])('%j is the words %j', (text, words) => {
    expect(commandWords(text)).toEqual(words);
  });
});
