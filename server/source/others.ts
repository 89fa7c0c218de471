/**
 * Which other programs have a port open, as far as the system tells one program of another. Only asks; never an error, and nothing
 * depends on the answer but a name in a sentence.
 */
import { execFile } from 'node:child_process';
import { readdir, readFile, readlink, realpath } from 'node:fs/promises';
import { basename, join, resolve } from 'node:path';
import { promisify } from 'node:util';

/** As in `minicom (process 4711)`; empty where there is none, or the system does not tell. */
export type OthersAt = (path: string) => Promise<readonly string[]>;

/** A person closes one program, and then looks again (ours). */
const NAMED_MOST = 3;
/** `lsof` may wait on a network disk for ever, ms (ours). */
const LSOF_MS = 3_000;

export const othersAt: OthersAt = async (path) => {
  try {
    switch (process.platform) {
      case 'linux':
        return await openedOnLinux(path);
      case 'darwin':
        return openedByLsof(await lsof(path), process.pid);
      default:
        return [];
    }
  } catch {
    return [];
  }
};

/**
 * `folder`: where the system shows its processes. Those of other people show their open files to nobody but the superuser. `own`: the script
 * that this program was started with.
 */
export async function openedOnLinux(
  path: string,
  folder = '/proc',
  own = process.argv[1] ?? '',
): Promise<readonly string[]> {
  const wanted = await realpath(path);
  const ours = await realpath(own).catch(() => null);
  const found: string[] = [];
  for (const id of await readdir(folder)) {
    if (!/^\d+$/.test(id) || Number(id) === process.pid) continue;
    if (await hasOpen(join(folder, id, 'fd'), wanted))
      found.push(`${await nameOf(join(folder, id), ours)} (process ${id})`);
    if (found.length === NAMED_MOST) break;
  }
  return found;
}

async function hasOpen(folder: string, wanted: string): Promise<boolean> {
  const files = await readdir(folder).catch((): string[] => []);
  for (const file of files) {
    if ((await readlink(join(folder, file)).catch(() => null)) === wanted) return true;
  }
  return false;
}

/** A program that runs another one's script is known by both; one that runs `ours` is what a person calls it. */
async function nameOf(folder: string, ours: string | null): Promise<string> {
  const command = await readFile(join(folder, 'cmdline'), 'utf8').catch(() => '');
  const [program = '', script = ''] = command.split('\0');
  if (program === '') return 'a program';
  const isScript = /^(node|python|perl|ruby|java)/.test(basename(program)) && !script.startsWith('-') && script !== '';
  if (!isScript) return basename(program);
  const from = await readlink(join(folder, 'cwd')).catch(() => '/');
  const file = await realpath(resolve(from, script)).catch(() => null);
  return file !== null && file === ours ? 'another Bowlside' : `${basename(program)} ${basename(script)}`;
}

async function lsof(path: string): Promise<string> {
  // macOS gives a port two names, and each is open by itself.
  const names = [path, path.replace('/dev/cu.', '/dev/tty.')];
  const options = { timeout: LSOF_MS };
  // It ends with 1 where it found one of two names alone.
  return promisify(execFile)('lsof', ['-F', 'pc', '--', ...new Set(names)], options).then(
    ({ stdout }) => stdout,
    (error: { readonly stdout?: string }) => error.stdout ?? '',
  );
}

/** From its output for programs: a line `p…` with the process, then a line `c…` with its command. `own`: this process. */
export function openedByLsof(output: string, own: number): readonly string[] {
  const found = [...output.matchAll(/^p(\d+)\nc(.+)$/gm)].filter(([, id]) => Number(id) !== own);
  return found.slice(0, NAMED_MOST).map(([, id, command]) => `${command} (process ${id})`);
}
