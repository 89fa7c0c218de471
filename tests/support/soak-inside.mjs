/**
 * Loaded into a server that is soaked: at SIGUSR2 it writes down what it holds, after everything unused was let go. Its disk misbehaves when
 * it is told to. Nothing of the program knows.
 */
import { EventEmitter } from 'node:events';
import { createRequire } from 'node:module';
import { renameSync, writeFileSync } from 'node:fs';
import { queryObjects, setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { isMainThread, workerData } from 'node:worker_threads';

const file = process.env['SOAK_HELD'];
if (isMainThread && file) watchOver(file);
else if (typeof workerData === 'string') await import('./faulty-disk.mjs');

function watchOver(to) {
  setFlagsFromString('--expose-gc');
  const gc = runInNewContext('gc');
  // The serial library keeps one for every opening, with nothing in it and nobody listening: told apart, so that ours can be held to none.
  const { Poller } = createRequire(import.meta.url)('@serialport/bindings-cpp/dist/poller.js');
  let warnings = 0;
  process.on('warning', ({ name }) => (warnings += name === 'MaxListenersExceededWarning' ? 1 : 0));
  process.on('SIGUSR2', () => {
    gc();
    gc();
    const { heapUsed, arrayBuffers } = process.memoryUsage();
    const timers = process.getActiveResourcesInfo().filter((what) => what === 'Timeout').length;
    const pollers = queryObjects(Poller, { format: 'count' });
    const emitters = queryObjects(EventEmitter, { format: 'count' }) - pollers;
    writeFileSync(`${to}.new`, JSON.stringify({ bytes: heapUsed + arrayBuffers, timers, emitters, pollers, warnings }));
    renameSync(`${to}.new`, to);
  });
}
