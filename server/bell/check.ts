/** Whether the command that is to ring can be run at all: told at the start, while there is time to mend it, and not at the first alarm. */
import { accessSync, constants, statSync } from 'node:fs';
import { delimiter, join } from 'node:path';

/** Where the system looks for a program, and under which endings. */
export interface Looking {
  readonly folders: readonly string[];
  readonly endings: readonly string[];
}

export function systemLooking(env: NodeJS.ProcessEnv = process.env, platform = process.platform): Looking {
  const isWindows = platform === 'win32';
  const path = env['PATH'] ?? env['Path'] ?? '';
  const endings = isWindows ? (env['PATHEXT'] ?? '.COM;.EXE;.BAT;.CMD').split(';') : [];
  return { folders: path.split(delimiter).filter((folder) => folder !== ''), endings: ['', ...endings] };
}

/** Why it can't, in a sentence; null: it can, as far as can be seen without running it. */
export function bellTrouble(words: readonly string[], looking: Looking = systemLooking()): string | null {
  const [program = ''] = words;
  const isPlace = /[/\\]/.test(program);
  const places = isPlace ? [program] : looking.folders.map((folder) => join(folder, program));
  const found = places.flatMap((place) => looking.endings.map((ending) => place + ending)).filter(isFile);
  if (found.some(isRunnable)) return null;
  if (found.length > 0) return `The bell command cannot ring: ${found[0]!} may not be run.`;
  return `The bell command cannot ring: there is no program ${program}${isPlace ? '' : ' on this computer'}.`;
}

/** Where one may not look, or a name is longer than the system has names, there is no program either. */
function isFile(path: string): boolean {
  try {
    return statSync(path).isFile();
  } catch {
    return false;
  }
}

function isRunnable(path: string): boolean {
  try {
    accessSync(path, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}
