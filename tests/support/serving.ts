/**
 * The built program run as a person runs it, in a process of its own that can be stopped or killed, and a thermometer on a
 * pseudo-terminal that says what the test has in its bowl. Bounded in time, and ended by process id. Knows no page and no engine.
 */
import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { onTestFinished } from 'vitest';
import { PATIENCE_MS } from './patience.ts';
import { program } from './program.ts';
import { type Pluggable, pluggable } from './pty.ts';

const HURRIED_CLOCK = join(import.meta.dirname, 'hurried-clock.mjs');

export interface Serving {
  /** What to open. */
  readonly address: string;
  readonly pid: number;
  /** All lines said before the address. */
  readonly said: readonly string[];
  /** As Ctrl-C does; gives the exit code, null where a signal ended it. */
  stop(): Promise<number | null>;
  /** As kill -9 does. */
  kill(): Promise<void>;
}

/**
 * `port` 0: any free one. `hurried`: its clocks run so many times as fast. `preload`: a module that is loaded before the program and its
 * threads. Rejects where it ends, or says no address in time. Killed when the test is over.
 */
export async function serve(
  dataFolder: string,
  words: readonly string[],
  {
    port = 0,
    hurried = 1,
    preload,
  }: { readonly port?: number; readonly hurried?: number; readonly preload?: string } = {},
): Promise<Serving> {
  const argv = [program(), 'serve', '--listen', `127.0.0.1:${port}`, '--data', dataFolder, ...words];
  const before = [...(hurried === 1 ? [] : [HURRIED_CLOCK]), ...(preload === undefined ? [] : [preload])];
  const child = spawn(process.execPath, [...before.flatMap((module) => ['--import', module]), ...argv], {
    stdio: ['ignore', 'pipe', 'inherit'],
    env: { ...process.env, HURRIED: String(hurried) },
  });
  onTestFinished(() => ended(child, 'SIGKILL').then(() => undefined));
  const said = await untilAddress(child);
  return {
    pid: child.pid!,
    address: /http:\/\/[\d.:]+/.exec(said.at(-1)!)![0],
    said,
    stop: () => ended(child, 'SIGTERM'),
    kill: () => ended(child, 'SIGKILL').then(() => undefined),
  };
}

async function untilAddress(child: ChildProcess): Promise<readonly string[]> {
  const impatient = setTimeout(() => child.kill('SIGKILL'), PATIENCE_MS);
  const said: string[] = [];
  const lines = createInterface(child.stdout!);
  try {
    for await (const line of lines) {
      said.push(line);
      if (line.includes('http://')) return said;
    }
  } finally {
    clearTimeout(impatient);
  }
  throw new Error(`it ended without an address: ${said.join(' ')}`);
}

async function ended(child: ChildProcess, signal: NodeJS.Signals): Promise<number | null> {
  if (child.exitCode !== null || child.signalCode !== null) return child.exitCode;
  const exit = once(child, 'exit');
  child.kill(signal);
  const impatient = setTimeout(() => child.kill('SIGKILL'), PATIENCE_MS);
  await exit;
  clearTimeout(impatient);
  return child.exitCode;
}

export interface Pace {
  /** Its time runs so many times as fast; so must the server's that reads it. */
  readonly hurried: number;
  /** Of its own time, ms. */
  readonly lineEveryMs: number;
  /** What the spoon adds to a reading, up and down, °C. */
  readonly stirringC: number;
}

/** Four lines a second, as a quick hobby board sends them, of a bowl that nobody stirs. */
const USUAL: Pace = { hurried: 1, lineEveryMs: 250, stirringC: 0 };
/** Two strokes of a spoon that never quite agree, s (ours). */
const STROKES_S = [7.3, 2.9] as const;

/** A thermometer in a bowl that the test warms: speaks while it is plugged in. */
export class Thermometer {
  readonly #device: Pluggable;
  readonly #timer: NodeJS.Timeout;
  readonly #folder: string;
  readonly #pace: Pace;
  #plugged = false;
  #valueC: number;
  #towardsC: number;
  #cPerMin = 0;
  #spokeAtMs = performance.now();
  #count = 0;
  #said: (valueC: number) => string = (valueC) => `${valueC.toFixed(2)}\r\n`;
  #limitC = Infinity;
  /** Of the monotonic clock: when a line first told of more than the watched value, ms; null before. */
  crossedAtMs: number | null = null;

  /** Plugged in from the start; gone when the test is over. */
  constructor(valueC: number, pace: Partial<Pace> = {}) {
    this.#folder = mkdtempSync(join(tmpdir(), 'bowlside-thermometer-'));
    this.#device = pluggable(this.#folder);
    this.#valueC = valueC;
    this.#towardsC = valueC;
    this.#pace = { ...USUAL, ...pace };
    this.plug();
    this.#timer = setInterval(() => this.#speak(), this.#pace.lineEveryMs / this.#pace.hurried);
    onTestFinished(() => this.#close());
  }

  /** What to open; the same over every replug. */
  get path(): string {
    return this.#device.path;
  }

  /** The bowl as it is, without the spoon, °C. */
  get valueC(): number {
    return this.#valueC;
  }

  plug(): void {
    this.#device.plug();
    this.#plugged = true;
  }

  unplug(): void {
    this.#plugged = false;
    this.#device.unplug();
  }

  /** From the next line on. °C, and °C a minute of its own time. */
  goTo(valueC: number, cPerMin: number): void {
    this.#towardsC = valueC;
    this.#cPerMin = cPerMin;
  }

  /** What each line says from now on, its end included. */
  say(line: (valueC: number) => string): void {
    this.#said = line;
  }

  /** Besides its lines. */
  write(text: string): Promise<void> {
    return this.#device.write(text);
  }

  /** Notes when its lines cross this value upward. */
  watch(limitC: number): void {
    this.#limitC = limitC;
    this.crossedAtMs = null;
  }

  #speak(): void {
    // By the clock and not by the line: a late timer must not make the bowl slower.
    const nowMs = performance.now();
    const minutes = ((nowMs - this.#spokeAtMs) * this.#pace.hurried) / 60_000;
    this.#spokeAtMs = nowMs;
    const leftC = this.#towardsC - this.#valueC;
    this.#valueC += Math.sign(leftC) * Math.min(Math.abs(leftC), this.#cPerMin * minutes);
    if (!this.#plugged) return;
    this.#count++;
    // A hundredth of noise: a value that never stirs would rightly be called stuck.
    const shownC = this.#valueC + ((this.#count % 3) - 1) * 0.01 + this.#strokeC(nowMs);
    if (shownC > this.#limitC) this.crossedAtMs ??= performance.now();
    // Unplugged meanwhile: nobody hears it.
    void this.#device.write(this.#said(shownC)).catch(() => {});
  }

  #strokeC(nowMs: number): number {
    const s = (nowMs * this.#pace.hurried) / 1000;
    return (this.#pace.stirringC / STROKES_S.length) * STROKES_S.reduce((sum, each) => sum + Math.sin(s / each), 0);
  }

  #close(): void {
    clearInterval(this.#timer);
    this.unplug();
    rmSync(this.#folder, { recursive: true, force: true });
  }
}
