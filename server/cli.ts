#!/usr/bin/env node
/** The command line: which of the four commands is meant, what it prints, and how it ends. Knows nothing of what they do. */
import { realpathSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { defaultDataFolder, readConfig } from './config.ts';
import type { LagIo } from './commands/lag.ts';

/** What a command is given of the process it runs in. */
export interface Terminal {
  out(line: string): void | Promise<void>;
  err(line: string): void | Promise<void>;
  readonly env: Readonly<Record<string, string | undefined>>;
  readonly platform: NodeJS.Platform;
  /** Resolves when the person, or the system, wants it to stop. */
  stopped(): Promise<void>;
}

const PURPOSE = 'bowlside watches a bowl of chocolate through a USB thermometer and says what to do next.';

/** By command, as it is typed in the folder of the program. */
const USAGE = {
  serve: `  npx bowlside serve    read the thermometer and show it in a browser
    --port PATH         the serial port of the thermometer, as in /dev/ttyUSB0; without it, whatever is plugged in
    --baud N            its speed; without it, the six usual ones are tried on the open port
    --ask TEXT          ask it this once a second, where it speaks only when asked; nothing is ever sent otherwise
    --ask-end lf|crlf|cr  how a question ends, a line feed without it
    --simulate          a simulated bowl instead of a thermometer
    --profile ID|FILE   dark, milk, white, or a file of your own
    --start-at PHASE    the phase the chocolate is in, by its id in the profile
    --listen HOST:PORT  where to serve the page, 127.0.0.1:4330 without it; a PORT alone is one on 127.0.0.1
    --data DIR          where runs are kept
    --probe-lag S       how many seconds the probe takes to show 63 % of a change
    --bell-command CMD  a program to run while an alarm sounds on no screen, with its words; no shell comes between.
                        It is told BOWLSIDE_ALARM, BOWLSIDE_SEVERITY and BOWLSIDE_WORDS
    --no-bell           ring neither the terminal nor a command`,
  replay: `  npx bowlside replay FILE  put a recorded run (.csv or .jsonl) through today's engine, and print what it says
    --profile ID|FILE   judge it by this profile; without it, by the run's own
    --json              what was said as JSON, an event a line, for other programs
    --estimates S       between what was said, our estimate of the chocolate every S seconds
    --probe-lag S       how many seconds the probe takes to show 63 % of a change; without it, as the run says
    --timing            how long the engine took for it
    --check             whether today's engine says the same as was said then; if not, where they first differ, and it ends with 1`,
  ports: `  npx bowlside ports [PATH…] [--all] [--baud N]
                    what is plugged in, what it says, and what to do if something is wrong. Opens the port of your thermometer, or the
                    only one; any other where you name it, as opening one can restart a machine. --all: built-in and Bluetooth ports too`,
  lag: `  npx bowlside lag [--port PATH] [--baud N]
                    measure how long the probe takes to show 63 % of a change: it is plunged from the room into warm chocolate
  npx bowlside lag FILE.csv
                    the same from readings of such a plunge`,
} as const;

const VERSION_USAGE = `  npx bowlside --version  which version this is`;

/** Of the command it is asked beside, or of all that can be typed. */
function usage(command: string | undefined): string {
  const asked = Object.entries(USAGE).filter(([name]) => name === command);
  const told = asked.length > 0 ? asked.map(([, words]) => words) : [...Object.values(USAGE), VERSION_USAGE];
  return [PURPOSE, ...told].join('\n\n');
}

/** Runs one command to its end and gives the exit code: 0; 1 where it could not be done; 2 where the words were wrong. */
export async function bowlside(argv: readonly string[], terminal: Terminal): Promise<number> {
  const [command, ...words] = argv;
  if (command === 'help' || argv.some(isHelp)) {
    await terminal.out(usage(command));
    return 0;
  }
  switch (command) {
    case '--version': {
      const { installedVersion } = await import('./version.ts');
      await terminal.out(installedVersion());
      return 0;
    }
    case 'serve':
      return serve(words, terminal);
    case 'replay':
      return replay(words, terminal);
    case 'ports':
      return ports(words, terminal);
    case 'lag':
      return lag(words, terminal);
    default: {
      const typed = command === undefined ? 'bowlside' : `bowlside ${command}`;
      await terminal.err(`${typed}: serve, replay, ports or lag is wanted; npx bowlside --help says more`);
      return 2;
    }
  }
}

function isHelp(word: string): boolean {
  return word === '--help' || word === '-h';
}

/** The parts of a command are loaded when it is the one that is meant: a replay opens neither database nor serial library. */
async function serve(words: readonly string[], terminal: Terminal): Promise<number> {
  const read = readConfig(words, terminal);
  if (!read.ok) {
    await terminal.err(`bowlside serve: ${read.complaint}`);
    return 2;
  }
  const { startServer } = await import('./main.ts');
  // Before it first waits the data are open. Until then a Ctrl-C ends it as it stands, which leaves no more behind than a crash: a long
  // history may be looked through for seconds. From here on none is lost, nor does one leave half of the start behind.
  const starting = startServer(read.config);
  const stopped = terminal.stopped();
  const started = await starting;
  if (!started.ok) {
    for (const complaint of started.complaints) await terminal.err(complaint);
    return started.exit;
  }
  const { address, notices, stop } = started.server;
  for (const notice of notices) await terminal.out(notice);
  await terminal.out(`Open ${address} in a browser. Ctrl-C stops.`);
  await stopped;
  await stop();
  return 0;
}

async function replay(words: readonly string[], terminal: Terminal): Promise<number> {
  const { replay: replayFile } = await import('./commands/replay.ts');
  const { installedPlaces } = await import('./places.ts');
  const { profilesFolder } = installedPlaces();
  return replayFile(words, { ...terminal, profilesFolder });
}

async function ports(words: readonly string[], terminal: Terminal): Promise<number> {
  const { portsCommand } = await import('./commands/ports.ts');
  return portsCommand(words, terminal);
}

async function lag(words: readonly string[], terminal: Terminal): Promise<number> {
  const { lag: measureLag } = await import('./commands/lag.ts');
  const { knownAs } = await import('./source/ports.ts');
  const { rememberMeasuredLag } = await import('./settings.ts');
  const folder = defaultDataFolder(terminal);
  const remember: LagIo['remember'] = async (where, lagS) =>
    rememberMeasuredLag(folder, await knownAs(where), lagS, new Date().toISOString());
  return measureLag(words, { ...terminal, remember });
}

/** Resolves at the first Ctrl-C or request to end; a second one ends the process as it is. */
function stopAsked(): Promise<void> {
  return new Promise((resolve) => {
    for (const signal of ['SIGINT', 'SIGTERM'] as const) process.once(signal, () => resolve());
  });
}

async function runHere(): Promise<void> {
  const { linesTo } = await import('./commands/line-output.ts');
  const { env, platform } = process;
  const argv = process.argv.slice(2);
  // A run goes on whatever becomes of what is said beside it; a replay that nobody gets to read has failed.
  const bearsAll = argv[0] === 'serve';
  const said = { out: linesTo(process.stdout, bearsAll), err: linesTo(process.stderr, bearsAll) };
  process.exitCode = await bowlside(argv, { ...said, env, platform, stopped: stopAsked });
}

const isProgram = process.argv[1] !== undefined && realpathSync(process.argv[1]) === fileURLToPath(import.meta.url);
if (isProgram) await runHere();
