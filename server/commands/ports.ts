/** `bowlside ports`: from its words to what is asked for, and to the lines it prints. */
import { BAUD_RULE, baudFrom, defaultDataFolder, type Surroundings } from '../config.ts';
import { readSettings } from '../settings.ts';
import { portsReport } from '../source/ports-report.ts';
import { readTyped } from '../typed.ts';
import { Understanding } from './understood.ts';

export interface PortsIo extends Surroundings {
  out(line: string): void | Promise<void>;
  err(line: string): void | Promise<void>;
}

interface Asked {
  readonly paths: readonly string[];
  readonly all: boolean;
  /** null: it is searched for. */
  readonly baud: number | null;
}

/** 0: told; 2: the words were wrong, told in one line. `argv`: the words after `ports`. */
export async function portsCommand(argv: readonly string[], io: PortsIo): Promise<0 | 2> {
  const asked = readWords(argv);
  if (typeof asked === 'string') {
    await io.err(`bowlside ports: ${asked}`);
    return 2;
  }
  const { thermometer: remembered } = readSettings(defaultDataFolder(io));
  for await (const line of portsReport({ ...asked, remembered, understanding: () => new Understanding() }))
    await io.out(line);
  return 0;
}

/** Or what is wrong with them. */
function readWords(argv: readonly string[]): Asked | string {
  const typed = readTyped('ports', argv, { all: { type: 'boolean' }, baud: { type: 'string' } } as const);
  if (!typed.ok) return typed.complaint;
  const { values, words } = typed;
  const baud = baudFrom(values.baud);
  if (Number.isNaN(baud)) return `--baud ${values.baud}: ${BAUD_RULE}`;
  if (baud !== null && words.length === 0) return '--baud belongs to a PATH';
  return { paths: words, all: values.all ?? false, baud };
}
