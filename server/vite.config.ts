/**
 * How the program is built into dist/program: in a few files, libraries and all, as loading hundreds of small ones is most of what a start takes.
 * Threads run from dist/server.
 */
import { defineConfig } from 'vite';

export default defineConfig({
  root: import.meta.dirname,
  build: {
    ssr: 'cli.ts',
    outDir: '../dist/program',
    emptyOutDir: true,
    minify: false,
    target: 'node20',
  },
  // These look for what they are compiled to beside themselves.
  ssr: { noExternal: true, external: ['better-sqlite3', '@serialport/bindings-cpp'] },
});
