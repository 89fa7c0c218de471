/** The serial source over a pseudo-terminal opened by the real serial library, and all that it told. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, vi } from 'vitest';
import type { RecordedInput } from '../../server/core/record/input.ts';
import type { LinkState } from '../../server/core/show/wire.ts';
import type { PortIdentity } from '../../server/source/ports.ts';
import { serialSource, type SerialOptions } from '../../server/source/serial.ts';
import type { Source } from '../../server/source/source.ts';
import { PATIENCE_MS } from './patience.ts';
import { pluggable, type Pluggable } from './pty.ts';

/** For what is waited for. */
export const PATIENCE = { timeout: PATIENCE_MS, interval: 5 };

export interface Heard {
  readonly source: Source;
  readonly inputs: RecordedInput[];
  readonly links: LinkState[];
  lines(): string[];
  /** Ups and downs in their order. */
  turns(): boolean[];
  /** Waits until the link has come up this many times. */
  up(times?: number): Promise<void>;
  down(times?: number): Promise<void>;
  line(text: string): Promise<void>;
}

const startedMs = performance.now();
/** What inputs are stamped by, unless a test gives another. */
export const clock = { nowMs: (): number => Math.round(performance.now() - startedMs) };

/** Where the device shows itself; fresh for each test. */
export let folder: string;
/** Not plugged in when a test begins. */
export let device: Pluggable;
let running: Source[];

/** Has a device for each test of a file, and lets go of everything after it. */
export function useDevice(): void {
  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), 'bowlside-serial-'));
    device = pluggable(folder);
    running = [];
  });

  afterEach(async () => {
    await Promise.all(running.map((source) => source.close()));
    device.unplug();
    rmSync(folder, { recursive: true });
  });
}

type Given = Partial<Omit<SerialOptions, 'path' | 'identity'>> & { path?: string; identity?: PortIdentity };

/** At a speed that was named, unless the test has one searched. */
export function listen({ path = device.path, identity, ...rest }: Given = {}): Heard {
  const source = serialSource({ ...(identity ? { identity } : { path }), clock, baud: 9600, ...rest });
  running.push(source);
  const inputs: RecordedInput[] = [];
  const links: LinkState[] = [];
  const turns = (): boolean[] => inputs.flatMap((input) => (input.kind === 'link' ? [input.up] : []));
  const lines = (): string[] => inputs.flatMap((input) => (input.kind === 'line' ? [input.text] : []));
  source.start({ input: (input) => inputs.push(input), link: (state) => links.push(state) });
  const turned = (up: boolean, times: number): Promise<void> =>
    vi.waitFor(() => expect(turns().filter((turn) => turn === up)).toHaveLength(times), PATIENCE);
  return {
    source,
    inputs,
    links,
    lines,
    turns,
    up: (times = 1) => turned(true, times),
    down: (times = 1) => turned(false, times),
    line: (text) => vi.waitFor(() => expect(lines()).toContain(text), PATIENCE),
  };
}
