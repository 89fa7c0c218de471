/**
 * A real headless Chromium for the browser tests, with no step by hand: CHROMIUM_PATH wins, then the one shipped inside an npm
 * package, then one found on the machine. Where none starts, the test fails and says what to install; it never skips.
 */
import { existsSync, mkdtempSync, renameSync, rmSync, statfsSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import packed from '@sparticuz/chromium';
import { chromium } from 'playwright-core';
import type { Browser, BrowserContextOptions } from 'playwright-core';

/** Works as any user and stays quiet on the network. */
const ARGS = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  '--autoplay-policy=user-gesture-required',
];
/**
 * A page of a test lives for a second or two: what is made fast after some hundred calls is gone before it has paid. Ten times as many as usual;
 * where speed is measured it is as usual.
 */
const SHORT_LIVED = '--js-flags=--invocation-count-for-maglev=4000,--invocation-count-for-turbofan=30000';
const ON_THE_MACHINE = ['/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome'];
const WHAT_TO_INSTALL =
  'No Chromium starts here. The one in the npm package needs libnss3 and libnspr4 (Debian: apt-get install libnss3). ' +
  'Or install Chromium (Debian: apt-get install chromium), or name one in CHROMIUM_PATH.';

export const PHONE: BrowserContextOptions = {
  viewport: { width: 390, height: 844 },
  deviceScaleFactor: 2,
  hasTouch: true,
  locale: 'en-US',
};
export const TABLET: BrowserContextOptions = {
  viewport: { width: 1180, height: 820 },
  hasTouch: true,
  locale: 'en-US',
};

/** Where memory that processes share is a file in memory, and how much of it is enough for a browser, bytes (ours). */
const SHARED_MEMORY = '/dev/shm';
const ENOUGH_BYTES = 1e9;

/** Playwright keeps what the browser's processes share on the disk, since containers have little room elsewhere: not so where there is enough. */
function inMemory(): string[] {
  if (!existsSync(SHARED_MEMORY)) return [];
  const { bavail, bsize } = statfsSync(SHARED_MEMORY);
  return bavail * bsize < ENOUGH_BYTES ? [] : ['--disable-dev-shm-usage'];
}

let shared: Promise<Browser> | null = null;

/** The one of this process: started for whoever asks first, ends with the process. */
export function sharedBrowser(): Promise<Browser> {
  shared ??= launchBrowser([SHORT_LIVED]).then((browser) => browser.on('disconnected', () => (shared = null)));
  return shared;
}

/** Starts the first browser that will; rejects with what to install where none does. */
export async function launchBrowser(more: readonly string[] = []): Promise<Browser> {
  const refusals: string[] = [];
  for (const path of await candidates(refusals)) {
    try {
      return await chromium.launch({
        executablePath: path,
        args: [...ARGS, ...more],
        headless: true,
        ignoreDefaultArgs: inMemory(),
      });
    } catch (error) {
      refusals.push(`${path}: ${String(error).split('\n')[0]}`);
    }
  }
  throw new Error(`${WHAT_TO_INSTALL}\nTried: ${refusals.join('; ')}`);
}

async function candidates(refusals: string[]): Promise<readonly string[]> {
  const named = process.env['CHROMIUM_PATH'];
  if (named !== undefined && named !== '') return [named];
  const unpacked = await unpackedPath().catch((error: unknown) => {
    refusals.push(`the packed one: ${String(error)}`);
    return null;
  });
  return [...(unpacked === null ? [] : [unpacked]), ...ON_THE_MACHINE.filter(existsSync)];
}

/**
 * The package unpacks into the temporary folder and takes any file of the right name for its own, even half a one. So it is given a
 * fresh folder, moved into place under its version when it is whole; whoever comes second throws theirs away.
 */
async function unpackedPath(): Promise<string> {
  const place = join(tmpdir(), `bowlside-chromium-${packedVersion()}-${process.getuid?.() ?? 'user'}`);
  const executable = join(place, 'chromium');
  if (existsSync(executable)) return executable;
  const fresh = mkdtempSync(join(tmpdir(), 'bowlside-chromium-'));
  await withTmpdir(fresh, () => packed.executablePath());
  try {
    renameSync(fresh, place);
  } catch {
    rmSync(fresh, { recursive: true, force: true });
  }
  return executable;
}

function packedVersion(): string {
  const require = createRequire(import.meta.url);
  const manifest = join(require.resolve('@sparticuz/chromium'), '../../../package.json');
  return existsSync(manifest) ? (require(manifest) as { version: string }).version : 'unknown';
}

async function withTmpdir<Value>(folder: string, work: () => Promise<Value>): Promise<Value> {
  const before = process.env['TMPDIR'];
  process.env['TMPDIR'] = folder;
  try {
    return await work();
  } finally {
    if (before === undefined) delete process.env['TMPDIR'];
    else process.env['TMPDIR'] = before;
  }
}
