/**
 * Loaded before the built program, and before its writer thread: every clock they read runs HURRIED times as fast, and so do their
 * timers, but for none oftener than ten times a second, so that one browser keeps up. Nothing of the program knows.
 */
import os from 'node:os';
import { syncBuiltinESMExports } from 'node:module';

const speed = Number(process.env['HURRIED']);
/** The same moment for program and thread, ms of the wall clock. */
const sinceMs = Number((process.env['HURRIED_SINCE'] ??= String(Date.now())));
/** No hurried timer is shorter, ms; one that was shorter stays as it is. */
const SHORTEST_MS = 100;

const [dateNow, awakeMs, uptimeS, later, often] = [
  Date.now,
  performance.now.bind(performance),
  os.uptime,
  setTimeout,
  setInterval,
];
const upSinceS = uptimeS();
const hurried = (ms = 0) => Math.max(ms / speed, Math.min(ms, SHORTEST_MS));

Date.now = () => Math.round(sinceMs + (dateNow() - sinceMs) * speed);
Object.defineProperty(performance, 'now', { value: () => awakeMs() * speed });
os.uptime = () => upSinceS + (uptimeS() - upSinceS) * speed;
syncBuiltinESMExports();
globalThis.setTimeout = (act, ms, ...words) => later(act, hurried(ms), ...words);
globalThis.setInterval = (act, ms, ...words) => often(act, hurried(ms), ...words);
