/** Where the built server finds its parts. */
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { ROOT } from './figures.ts';

export const PLACES = {
  webFolder: join(ROOT, 'dist/web'),
  profilesFolder: join(ROOT, 'profiles'),
  writerScript: pathToFileURL(join(ROOT, 'dist/threads/writer.js')),
  judgeScript: pathToFileURL(join(ROOT, 'dist/threads/judge-thread.js')),
};
