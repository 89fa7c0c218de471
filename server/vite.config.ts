/**
 * How the program is built into dist/program: in a few files, libraries and all, as loading hundreds of small ones is most of what a start takes.
 * Threads run from dist/server.
 */
import { defineConfig } from 'vite';

const EVERY_COMMAND = /server\/(core|config|places|profiles|bell\/command|source\/(asking|recorded)|judging\/under)\b/;
/** Answers, paper and the other commands come later, or never; the threads have files of their own. */
const NOT_LATE = /server\/(?!cli|commands|routes|web-app|handover|intake|names)\w/;

export default defineConfig({
  root: import.meta.dirname,
  build: {
    ssr: 'cli.ts',
    outDir: '../dist/program',
    emptyOutDir: true,
    minify: false,
    target: 'node20',
    rolldownOptions: {
      output: {
        // A start waits for each file, and on a busy machine for long: all that every command needs, then all that serving begins with.
        codeSplitting: {
          groups: [
            { name: 'engine', test: EVERY_COMMAND },
            { name: 'serve', test: NOT_LATE },
          ],
        },
      },
    },
  },
  // These look for what they are compiled to beside themselves.
  ssr: { noExternal: true, external: ['better-sqlite3', '@serialport/bindings-cpp'] },
});
