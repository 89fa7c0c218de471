/** A line of the list of runs for tests: an ended afternoon of dark chocolate, with nothing written on its card. */
import type { RunLine } from '../../web/run-list.ts';

export const LINE: RunLine = {
  run: 'r1',
  title: 'Dark chocolate',
  coating: 'dark',
  profile: 'dark',
  simulated: false,
  beganAtWall: '2026-11-24T13:40:00',
  durationMs: 118 * 60_000,
  endedAtMs: 9,
  standing: 'in-temper',
  worstAlarm: null,
  worstOverC: null,
  visits: [],
  name: null,
  centre: null,
  lot: null,
  kg: null,
  tags: [],
  verdict: null,
  binnedAtWall: null,
  importedAtWall: null,
  bowlName: null,
  tiles: [],
};
