/**
 * How the program is built into dist/program: in a few files, libraries and all, as loading hundreds of small ones is most of what a start takes.
 * Threads, and the process that copies, run from dist/server.
 */
import { chmodSync } from 'node:fs';
import { join } from 'node:path';
import { defineConfig, normalizePath } from 'vite';

const EVERY_COMMAND = /^(core|config|places|profiles|bell\/command|source\/(asking|recorded)|judging\/under)\b/;
/** Answers, paper and the other commands come later, or never; what runs apart has files of its own. */
const NOT_LATE = /^(?!cli|commands|routes|web-app|handover|intake|names)\w/;

/** Of our own modules those whose place in this folder is such; wherever the folder itself lies. */
function inThisFolder(places: RegExp): (id: string) => boolean {
  const folder = `${normalizePath(import.meta.dirname)}/`;
  return (id) => id.startsWith(folder) && places.test(id.slice(folder.length));
}

const PROGRAM = join(import.meta.dirname, '../dist/program');

/** npx makes it executable when it first meets it, and never again: each build after that would shut it out. */
const runnable = {
  name: 'runnable',
  writeBundle: () => chmodSync(join(PROGRAM, 'cli.js'), 0o755),
};

export default defineConfig({
  root: import.meta.dirname,
  // A table is read sooner as one text.
  json: { stringify: true, namedExports: false },
  plugins: [runnable],
  build: {
    ssr: 'cli.ts',
    outDir: PROGRAM,
    emptyOutDir: true,
    minify: false,
    target: 'node20',
    rolldownOptions: {
      output: {
        // They are read with the rest of a file; licences stay.
        comments: { legal: true, annotation: false, jsdoc: false },
        // A start waits for each file, and on a busy machine for long: all that every command needs, then all that serving begins with.
        codeSplitting: {
          groups: [
            { name: 'engine', test: inThisFolder(EVERY_COMMAND) },
            { name: 'serve', test: inThisFolder(NOT_LATE) },
          ],
        },
      },
    },
  },
  // These look for what they are compiled to beside themselves.
  ssr: { noExternal: true, external: ['better-sqlite3', '@serialport/bindings-cpp'] },
});
