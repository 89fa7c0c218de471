/**
 * `npm run fake -- unplug@10+5 seed=7`: a fake thermometer on a pseudo-terminal, for a demonstration or to show a fault again. It prints where
 * to find it, plays its script once, and is gone at its end or at Ctrl-C. Linux and macOS.
 */
import { setTimeout as wait } from 'node:timers/promises';
import { deedsOf } from './deeds.ts';
import { PtyWire } from './pty-wire.ts';
import { readScript, SWITCHES, writtenScript, type SwitchName } from './script.ts';
import { played } from './wire.ts';

/** How long it waits for somebody to open it before the first word, ms (ours). */
const FIRST_WORD_MS = 3_000;

async function main(words: readonly string[]): Promise<void> {
  if (words.includes('--help')) return usage();
  const read = readScript(words.join(' '));
  if (!read.ok) {
    console.error(read.complaint);
    process.exitCode = 2;
    return;
  }
  const wire = new PtyWire();
  const gone = (): void => void wire.close().then(() => process.exit());
  process.once('SIGINT', gone).once('SIGTERM', gone);
  console.log(writtenScript(read.script));
  console.log(`npx bowlside serve --port ${wire.path}`);
  const startMs = performance.now() + FIRST_WORD_MS;
  await played(deedsOf(read.script), wire, (atMs) =>
    wait(atMs === 0 ? 0 : Math.max(0, startMs + atMs - performance.now())),
  );
  // There, and open, to the end of its time: the last that it does may be to say nothing.
  await wait(Math.max(0, startMs + read.script.forMs - performance.now()));
  await wire.close();
}

function usage(): void {
  console.log('npm run fake -- [seed=7] [every=0.5] [for=60] [bowl=31.5] [SWITCH@SECOND[+SECONDS][=AMOUNT]]…');
  for (const name of Object.keys(SWITCHES) as SwitchName[]) console.log(`  ${name.padEnd(15)} ${SWITCHES[name]}`);
}

await main(process.argv.slice(2));
