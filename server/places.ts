/** Where the parts of the program that are not modules lie. Knows nothing of what is in them. */
import { existsSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { pathToFileURL } from 'node:url';

/** Folders, absolute. */
export interface Places {
  readonly profilesFolder: string;
  /** The built page. */
  readonly webFolder: string;
  /** The store's writer thread, which Node 20 can only run built. */
  readonly writerScript: URL;
  /** The thread that judges a stored trace again; as above. */
  readonly judgeScript: URL;
}

/** The nearest folder above this module, built or not, that is a package. */
export function installedRoot(): string {
  let root = import.meta.dirname;
  while (!existsSync(join(root, 'package.json')) && root !== dirname(root)) root = dirname(root);
  return root;
}

export function installedPlaces(): Places {
  const root = installedRoot();
  return {
    profilesFolder: join(root, 'profiles'),
    webFolder: join(root, 'dist', 'web'),
    writerScript: pathToFileURL(join(root, 'dist', 'threads', 'writer.js')),
    judgeScript: pathToFileURL(join(root, 'dist', 'threads', 'judge-thread.js')),
  };
}
