/** Folders made where they are missing, or why one cannot be, in words for the person. */
import { mkdirSync, type Stats, statSync } from 'node:fs';
import { dirname } from 'node:path';

/**
 * Makes a folder (absolute) and those above it that are missing, one after the other: Node 20's own way of making several never ends where
 * the system refuses one in a folder that is there, as in /proc, or below a link that leads nowhere. Throws an `Error` that says why.
 */
export function makeFolder(folder: string): void {
  if (isFolder(folder)) return;
  const above = dirname(folder);
  if (above !== folder) makeFolder(above);
  try {
    mkdirSync(folder);
  } catch (error) {
    // Somebody else may just have made it.
    if (!isFolder(folder)) throw new Error(whyNone(folder, above, error), { cause: error });
  }
}

function isFolder(path: string): boolean {
  return whatIsAt(path)?.isDirectory() ?? false;
}

/** null: nothing, or the system does not say. */
function whatIsAt(path: string): Stats | null {
  try {
    return statSync(path);
  } catch {
    return null;
  }
}

function whyNone(folder: string, above: string, error: unknown): string {
  switch (error instanceof Error && 'code' in error ? error.code : null) {
    case 'EEXIST':
      return whatIsAt(folder) !== null
        ? `${folder} is a file, and a folder is wanted`
        : `${folder} is a link that leads nowhere`;
    case 'EACCES':
    case 'EPERM':
      return `this user may make no folder in ${above}`;
    case 'EROFS':
      return `${above} is write-protected`;
    case 'ENOSPC':
      return `there is no room in ${above}`;
    default:
      return `no folder can be made in ${above}`;
  }
}
