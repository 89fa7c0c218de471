/** From the start of the program to the first reading painted: a process of its own, a thermometer that speaks ten times a second, and a page that is opened as soon as there is an address. */
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import type { Browser } from 'playwright-core';
import { launchBrowser } from '../../support/browser.ts';
import { openPty } from '../../support/pty.ts';
import { type Figure, ROOT } from '../figures.ts';
import { bowlC } from '../stream.ts';

const LINE_MS = 100;

export async function measureStart(rounds: number): Promise<readonly Figure[]> {
  const browser = await launchBrowser();
  const served: number[] = [];
  const painted: number[] = [];
  try {
    for (let round = 0; round < rounds; round++) {
      const { servedMs, paintedMs } = await startOnce(browser);
      served.push(servedMs);
      painted.push(paintedMs);
    }
  } finally {
    await browser.close();
  }
  return [
    { name: 'start to first reading painted', unit: 'ms', rounds: painted },
    { name: '… of it until there is an address', unit: 'ms', rounds: served },
  ];
}

async function startOnce(browser: Browser): Promise<{ readonly servedMs: number; readonly paintedMs: number }> {
  const pty = openPty();
  const data = mkdtempSync(join(tmpdir(), 'bowlside-start-'));
  const page = await browser.newPage({ viewport: { width: 1180, height: 820 }, locale: 'en-US' });
  let n = 0;
  const speaking = setInterval(() => void pty.write(`${bowlC(n++).toFixed(2)}\r\n`).catch(() => {}), LINE_MS);
  const beganMs = performance.now();
  const argv = ['serve', '--listen', '127.0.0.1:0', '--data', data, '--port', pty.path];
  const child = spawn(process.execPath, [join(ROOT, 'dist/program/cli.js'), ...argv], {
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  const exit = once(child, 'exit');
  try {
    let address: string | undefined;
    for await (const line of createInterface(child.stdout)) {
      address = /http:\/\/[\d.:]+/.exec(line)?.[0];
      if (address !== undefined) break;
    }
    if (address === undefined) throw new Error('it ended without an address');
    const servedMs = performance.now() - beganMs;
    await page.goto(address, { waitUntil: 'commit' });
    await page.waitForFunction(() => /\d/.test(document.querySelector('.figures')?.textContent ?? ''), {
      polling: 'raf',
    });
    return { servedMs, paintedMs: performance.now() - beganMs };
  } finally {
    clearInterval(speaking);
    child.kill('SIGTERM');
    await exit;
    await page.close();
    pty.unplug();
    rmSync(data, { recursive: true, force: true });
  }
}
