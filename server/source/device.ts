/** What stands at a path: another device there, or none, is another answer. */
import { stat } from 'node:fs/promises';

/**
 * null where nothing does, or the system doesn't say. While a port is held open its device number is not given to another, so a replug always
 * shows here.
 */
export async function deviceAt(path: string): Promise<string | null> {
  try {
    const { rdev, ino } = await stat(path);
    return `${rdev}:${ino}`;
  } catch {
    return null;
  }
}
