/**
 * The command that rings for Bowlside: run with its words as they are and no shell between, one at a time, for ten seconds at most. It can
 * neither hold anything up nor fill the terminal: what goes wrong is said once.
 */
import { type ChildProcess, spawn } from 'node:child_process';
import type { Ringer, Rung } from './ringer.ts';

/** Longest that it may take, ms (ours: as long as the slower of the two rhythms). */
export const COMMAND_WITHIN_MS = 10_000;

export class BellCommand implements Ringer {
  readonly #words: readonly string[];
  readonly #report: (line: string) => void;
  readonly #withinMs: number;
  #running: ChildProcess | null = null;
  #reported = false;

  constructor(words: readonly string[], report: (line: string) => void, withinMs: number = COMMAND_WITHIN_MS) {
    this.#words = words;
    this.#report = report;
    this.#withinMs = withinMs;
  }

  /** Begins it, unless the one before still runs. It is told BOWLSIDE_ALARM, BOWLSIDE_SEVERITY and BOWLSIDE_WORDS. */
  ring({ alarm, severity, words }: Rung): void {
    const [file, ...argv] = this.#words;
    if (this.#running !== null || file === undefined) return;
    const env = { ...process.env, BOWLSIDE_ALARM: alarm, BOWLSIDE_SEVERITY: severity, BOWLSIDE_WORDS: words };
    const child = this.#spawned(file, argv, env);
    if (child === null) return;
    this.#running = child;
    child.once('error', (error) => {
      this.#running = null;
      this.#complain(error.message);
    });
    child.once('exit', (code, signal) => {
      this.#running = null;
      if (signal !== null) this.#complain(`it was ended by ${signal}`);
      else if (code !== 0) this.#complain(`it ended with ${code}`);
    });
  }

  /** Leaves nothing running, and says nothing more. */
  close(): void {
    this.#reported = true;
    this.#running?.kill('SIGKILL');
  }

  /** A word that no system takes, one with a NUL for instance, is refused before anything runs. */
  #spawned(file: string, argv: readonly string[], env: NodeJS.ProcessEnv): ChildProcess | null {
    const options = {
      env,
      stdio: 'ignore',
      timeout: this.#withinMs,
      killSignal: 'SIGKILL',
      windowsHide: true,
    } as const;
    try {
      return spawn(file, argv, options);
    } catch (error) {
      this.#complain(error instanceof Error ? error.message : String(error));
      return null;
    }
  }

  #complain(why: string): void {
    if (this.#reported) return;
    this.#reported = true;
    this.#report(
      `--bell-command ${this.#words.join(' ')}: ${why}. This is said once; it is tried again at each alarm.`,
    );
  }
}

/** Words apart by spaces, single or double quotes around those that hold some; null where a quote is left open or there is no word. */
export function commandWords(text: string): readonly string[] | null {
  const words: string[] = [];
  const pattern = /\s*((?:"[^"]*"|'[^']*'|[^\s"'])+)(?=\s|$)/y;
  const end = text.trimEnd().length;
  while (pattern.lastIndex < end) {
    const match = pattern.exec(text);
    if (match === null) return null;
    words.push(
      match[1]!.replaceAll(/"([^"]*)"|'([^']*)'/g, (_, double?: string, single?: string) => double ?? single ?? ''),
    );
  }
  return words.length === 0 || words[0] === '' ? null : words;
}
