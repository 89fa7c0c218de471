/**
 * Writes fixtures/ anew: the traces that the stories tell, the logs that today's engine makes of all traces there, and the
 * list of stories in the README. Done only on demand; the difference is read before it is kept.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { encodeRunFile } from '../../server/core/record/trace.ts';
import { FIXTURES, logOf, logPath, readTrace, storyNames, tracePath } from './fixtures.ts';
import { stories } from './stories/stories.ts';
import type { Story } from './stories/told.ts';

/** The section of the README that is written from the stories, up to the next heading or the end. */
const HEADING = '## Told by the simulated bowl\n';
const SECTION = new RegExp(`${HEADING}[^#]*`);

/** Hand-made traces stay as they are; only their logs are made anew. */
export function rewriteFixtures(): void {
  const told = stories();
  for (const { name, header, inputs } of told) {
    writeFileSync(tracePath(name), encodeRunFile({ what: 'trace', header, labels: {}, inputs, events: [] }));
  }
  for (const name of storyNames()) writeFileSync(logPath(name), logOf(readTrace(name)));
  rewriteReadme(told);
}

function rewriteReadme(told: readonly Story[]): void {
  const path = join(FIXTURES, 'README.md');
  const list = told.map(({ name, shows }) => `- **${name}**: ${shows}\n`).join('');
  const readme = readFileSync(path, 'utf8');
  writeFileSync(
    path,
    readme.replace(SECTION, () => `${HEADING}\n${list}`),
  );
}
