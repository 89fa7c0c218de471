/**
 * A process of its own that holds a store, to be killed: it does what it is told over the channel to its parent, and says on standard output
 * how many turns are on disk. Its writer is the one that a server starts.
 */
import { writeSync } from 'node:fs';
import { openStore } from '../../dist/server/store/store.js';

const writerScript = new URL('../../dist/threads/writer.js', import.meta.url);
const opened = openStore(process.argv[2], { writerScript });
if (!opened.ok) throw new Error(opened.message);
opened.store.onCommitted((_run, _seq, turns) => writeSync(1, `${turns}\n`));

process.on('message', ([method, ...args]) => opened.store[method](...args));
writeSync(1, 'open\n');
