/** Which group of people may open a port: the one to join. Only Linux has its ports belong to such groups. */
import { readFile, stat } from 'node:fs/promises';

export type GroupOf = (path: string) => Promise<string | null>;

/** null where the system does not say. `groupFile`: the system's list of groups. */
export async function groupOf(path: string, groupFile = '/etc/group'): Promise<string | null> {
  try {
    const { gid } = await stat(path);
    const groups = await readFile(groupFile, 'utf8');
    return new RegExp(`^([^:\\n]+):[^:\\n]*:${gid}:`, 'm').exec(groups)?.[1] ?? null;
  } catch {
    return null;
  }
}
