/**
 * How the program is built: in a few files, libraries and all, as loading hundreds of small ones is most of what a start takes. Into
 * dist/program what a person starts, into dist/threads what it starts itself.
 */
import { chmodSync } from 'node:fs';
import { join } from 'node:path';
import { defineConfig, normalizePath, type BuildEnvironmentOptions, type EnvironmentOptions, type Plugin } from 'vite';

const EVERY_COMMAND =
  /^(core|config|places|profiles|typed|version|bell\/command|source\/(asking|recorded)|judging\/under)\b/;
/** Answers, paper and the other commands come later, or never; what runs apart has files of its own. */
const NOT_LATE = /^(?!cli|commands|routes|web-app|handover|intake|names)\w/;

/** Of our own modules those whose place in this folder is such; wherever the folder itself lies. */
function inThisFolder(places: RegExp): (id: string) => boolean {
  const folder = `${normalizePath(import.meta.dirname)}/`;
  return (id) => id.startsWith(folder) && places.test(id.slice(folder.length));
}

const DIST = join(import.meta.dirname, '../dist');

/** npx makes it executable when it first meets it, and never again: each build after that would shut it out. */
const runnable: Plugin = {
  name: 'runnable',
  applyToEnvironment: ({ name }) => name === 'program',
  writeBundle: () => chmodSync(join(DIST, 'program/cli.js'), 0o755),
};

type Output = Exclude<
  NonNullable<BuildEnvironmentOptions['rolldownOptions']>['output'],
  readonly unknown[] | undefined
>;

/** `input`: files of this folder; each gives one of its own name in that folder of dist. */
function builtInto(folder: string, input: readonly string[], output: Output): EnvironmentOptions {
  return {
    consumer: 'server',
    // These look for their native halves beside themselves.
    resolve: { noExternal: true, external: ['bindings', '@serialport/bindings-cpp'] },
    build: {
      outDir: join(DIST, folder),
      emptyOutDir: true,
      minify: false,
      target: 'node20',
      rolldownOptions: {
        input: input.map((file) => join(import.meta.dirname, file)),
        // Comments are read with the rest of a file; licences stay.
        output: {
          entryFileNames: '[name].js',
          comments: { legal: true, annotation: false, jsdoc: false },
          ...output,
        },
      },
    },
  };
}

export default defineConfig({
  root: import.meta.dirname,
  // A table is read sooner as one text.
  json: { stringify: true, namedExports: false },
  plugins: [runnable],
  environments: {
    program: builtInto('program', ['cli.ts'], {
      // A start waits for each file, and on a busy machine for long: all that every command needs, then all that serving begins with.
      codeSplitting: {
        groups: [
          { name: 'engine', test: inThisFolder(EVERY_COMMAND) },
          { name: 'serve', test: inThisFolder(NOT_LATE) },
        ],
      },
    }),
    threads: builtInto('threads', ['store/writer.ts', 'store/copy-process.ts', 'judging/judge-thread.ts'], {}),
  },
  builder: {
    buildApp: async (builder) => {
      for (const name of ['program', 'threads']) await builder.build(builder.environments[name]!);
    },
  },
});
