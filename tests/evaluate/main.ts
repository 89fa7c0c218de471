/** Prints the figures: seeded kitchens through the engine and the stand-ins. Usage: see `USAGE`. */
import { parseArgs } from 'node:util';
import { shipped } from '../support/shipped.ts';
import { tableOf, type Column } from './figures.ts';
import { judge } from './judge.ts';
import { caseOf, SEED_SETS, type Case, type SeedSet } from './kitchens.ts';
import { ORACLE } from './oracle.ts';
import { STRAIGHT_LINE, THRESHOLD } from './stand-ins.ts';
import type { Tally } from './tally.ts';
import { ENGINE, type Watcher } from './watchers.ts';

const USAGE = `npm run evaluate -- [--runs N] [--set tuning|report] [--turn N] [--engine-only] [--verbose]
  --runs     how many runs (60)      --turn  only this run of the set, by its place
  --set      which seeds (tuning)    --verbose (or VERBOSE=1)  every wrong case: seed, handling, profile, time, what`;

const PROFILES = ['dark', 'milk', 'white'].map(shipped);

function main(): void {
  const { values } = parseArgs({
    options: {
      runs: { type: 'string', default: '60' },
      set: { type: 'string', default: 'tuning' },
      turn: { type: 'string' },
      'engine-only': { type: 'boolean', default: false },
      verbose: { type: 'boolean', default: process.env['VERBOSE'] === '1' },
      help: { type: 'boolean', default: false },
    },
  });
  if (values.help || !(values.set in SEED_SETS)) {
    console.log(USAGE);
    return;
  }
  const turns =
    values.turn === undefined ? Array.from({ length: Number(values.runs) }, (_, turn) => turn) : [Number(values.turn)];
  const watchers: Watcher[] = values['engine-only'] ? [ENGINE] : [ENGINE, THRESHOLD, STRAIGHT_LINE, ORACLE];
  const tallies = watchers.map((): Tally[] => []);
  for (const turn of turns) {
    const kitchen = caseOf(SEED_SETS[values.set as SeedSet] + turn, turn, PROFILES);
    if (values.verbose) console.log(described(kitchen));
    for (const [index, watcher] of watchers.entries()) tallies[index]?.push(judge(kitchen, watcher.watch(kitchen)));
  }
  const columns = watchers.map((watcher, index): Column => ({
    name: watcher.name,
    foresightOnly: watcher === ORACLE,
    tallies: tallies[index] ?? [],
  }));
  if (values.verbose) for (const tally of columns[0]?.tallies ?? []) for (const line of tally.wrong) console.log(line);
  const hours = (columns[0]?.tallies ?? []).reduce((sum, tally) => sum + tally.hours, 0);
  console.log(`${turns.length} runs of the ${values.set} set, ${hours.toFixed(0)} h`);
  for (const line of tableOf(columns)) console.log(line);
}

function described({ seed, handling, profile, course, probe, hz, hours }: Case): string {
  const kg = course.kitchens[0]?.kg.toFixed(2) ?? '';
  const run = `seed ${seed}: ${handling}, ${profile.id}, ${kg} kg, ${hours.toFixed(2)} h`;
  return `${run}; probe ${probe.lagS.toFixed(1)} s, steps of ${probe.stepC} °C, ${hz.toFixed(1)} Hz`;
}

main();
