/**
 * The built program run as a person runs it, in a process of its own that can be stopped or killed, and a thermometer on a
 * pseudo-terminal that says what the test has in its bowl. Bounded in time, and ended by process id. Knows no page and no engine.
 */
import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { onTestFinished } from 'vitest';
import { type Pluggable, pluggable } from './pty.ts';

const BUILT = join(import.meta.dirname, '../../dist/server/cli.js');
/** A server that has said nothing, or not ended, for this long is broken, ms (ours). */
const PATIENCE_MS = 20_000;
/** Four lines a second, as a quick hobby board sends them, ms. */
const LINE_EVERY_MS = 250;

export interface Serving {
  /** What to open. */
  readonly address: string;
  /** All lines said before the address. */
  readonly said: readonly string[];
  /** As Ctrl-C does; gives the exit code, null where a signal ended it. */
  stop(): Promise<number | null>;
  /** As kill -9 does. */
  kill(): Promise<void>;
}

/** `port` 0: any free one. Rejects where it ends, or says no address in time. Killed when the test is over. */
export async function serve(dataFolder: string, words: readonly string[], port = 0): Promise<Serving> {
  if (!existsSync(BUILT)) throw new Error('the server is not built: run `npm run build` first');
  const argv = [BUILT, 'serve', '--listen', `127.0.0.1:${port}`, '--data', dataFolder, ...words];
  const child = spawn(process.execPath, argv, { stdio: ['ignore', 'pipe', 'inherit'] });
  onTestFinished(() => ended(child, 'SIGKILL').then(() => undefined));
  const said = await untilAddress(child);
  return {
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

/** A thermometer in a bowl that the test warms: speaks four times a second while it is plugged in. */
export class Thermometer {
  readonly #device: Pluggable;
  readonly #timer: NodeJS.Timeout;
  readonly #folder: string;
  #plugged = false;
  #valueC: number;
  #towardsC: number;
  #stepC = 0;
  #count = 0;
  #said: (valueC: number) => string = (valueC) => `${valueC.toFixed(2)}\r\n`;
  #limitC = Infinity;
  /** Of the monotonic clock: when a line first told of more than the watched value, ms; null before. */
  crossedAtMs: number | null = null;

  /** Plugged in from the start; gone when the test is over. */
  constructor(valueC: number) {
    this.#folder = mkdtempSync(join(tmpdir(), 'bowlside-thermometer-'));
    this.#device = pluggable(this.#folder);
    this.#valueC = valueC;
    this.#towardsC = valueC;
    this.plug();
    this.#timer = setInterval(() => this.#speak(), LINE_EVERY_MS);
    onTestFinished(() => this.#close());
  }

  /** What to open; the same over every replug. */
  get path(): string {
    return this.#device.path;
  }

  plug(): void {
    this.#device.plug();
    this.#plugged = true;
  }

  unplug(): void {
    this.#plugged = false;
    this.#device.unplug();
  }

  /** From the next line on. °C, and °C a minute. */
  goTo(valueC: number, cPerMin: number): void {
    this.#towardsC = valueC;
    this.#stepC = (cPerMin / 60) * (LINE_EVERY_MS / 1000);
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
    if (!this.#plugged) return;
    const leftC = this.#towardsC - this.#valueC;
    this.#valueC += Math.sign(leftC) * Math.min(Math.abs(leftC), this.#stepC);
    this.#count++;
    // A hundredth of noise: a value that never stirs would rightly be called stuck.
    const shownC = this.#valueC + ((this.#count % 3) - 1) * 0.01;
    if (shownC > this.#limitC) this.crossedAtMs ??= performance.now();
    // Unplugged meanwhile: nobody hears it.
    void this.#device.write(this.#said(shownC)).catch(() => {});
  }

  #close(): void {
    clearInterval(this.#timer);
    this.unplug();
    rmSync(this.#folder, { recursive: true, force: true });
  }
}
