/** A process of its own that brings a data file up to date, to be killed in the middle of it. Runs from the built tree, as the real server does. */
import { writeSync } from 'node:fs';
import { readyDataFile } from '../../dist/server/store/datafile.js';

writeSync(1, 'begun\n');
const ready = readyDataFile(process.argv[2], Date.now());
writeSync(1, ready.ok ? 'done\n' : `${ready.message}\n`);
