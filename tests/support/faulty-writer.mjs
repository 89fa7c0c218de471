/** The store's own writer thread on a disk that misbehaves when it is told to. */
import './faulty-disk.mjs';

await import('../../dist/server/store/writer.js');
