/** `npm run soak -- PART… [--count N] [--seconds S] [--seed X]`: full counts of what `npm test` does a few times. */
import { spawnSync } from 'node:child_process';
import { join } from 'node:path';
import { parseArgs } from 'node:util';

const number = { type: 'string' };
const { values, positionals: parts } = parseArgs({
  allowPositionals: true,
  options: { count: number, seconds: number, seed: number, hours: number, help: { type: 'boolean' } },
});
const { help, ...bounds } = values;
const numbers = Object.entries(bounds).map(([name, text]) => [name, Number(text)]);
if (help || (parts.length === 0 && bounds.hours === undefined) || numbers.some(([, value]) => !(value >= 0))) {
  console.log(`npm run soak -- PART… [--count N] [--seconds S] [--seed X]
npm run soak -- --hours H [--seed X]
  the parts stand in tests/soak/parts.ts; without --count a part is done in full, --seconds ends it sooner`);
} else {
  const config = join(import.meta.dirname, 'vitest.config.ts');
  const asked = { ...Object.fromEntries(numbers), parts: bounds.hours === undefined ? parts : ['hours', ...parts] };
  const vitest = join(import.meta.dirname, '../../node_modules/vitest/vitest.mjs');
  const env = { ...process.env, SOAK: JSON.stringify(asked) };
  const ended = spawnSync(process.execPath, [vitest, 'run', '--config', config], { stdio: 'inherit', env });
  process.exitCode = ended.status ?? 1;
}
