/** The host rings with no page at all: the built program, a thermometer on a pseudo-terminal, and a command that writes down what it is told. */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { expect, test } from 'vitest';
import { BOWL } from '../support/server.ts';
import { serve, Thermometer } from '../support/serving.ts';
import { freshFolder } from '../support/store.ts';

const SCRIPT = `import { appendFileSync } from 'node:fs';
const { BOWLSIDE_ALARM, BOWLSIDE_SEVERITY, BOWLSIDE_WORDS } = process.env;
appendFileSync(process.argv[2], [BOWLSIDE_ALARM, BOWLSIDE_SEVERITY, BOWLSIDE_WORDS].join('|') + '\\n');
`;

/** It rings every ten seconds at most, of the server’s time. */
const LONGER_THAN_A_PAUSE_MS = 12_000;
const HURRIED = 5;

test('over the ceiling with no page open the command rings, and is still once somebody has seen it', async () => {
  const folder = freshFolder();
  const [script, file] = [join(folder, 'ring.mjs'), join(folder, 'rung')];
  writeFileSync(script, SCRIPT);
  writeFileSync(file, '');
  const rung = (): readonly string[] => readFileSync(file, 'utf8').trim().split('\n');
  const thermometer = new Thermometer(31.5, { hurried: HURRIED });
  const command = `"${process.execPath}" "${script}" "${file}"`;
  const words = ['--port', thermometer.path, '--profile', 'dark', '--start-at', 'work', '--bell-command', command];
  const server = await serve(freshFolder(), words, { hurried: HURRIED });
  const commands = new URL(`/api/bowls/${BOWL}/commands`, server.address);
  const state = async (): Promise<unknown> =>
    ((await (await fetch(new URL(`/api/bowls/${BOWL}`, server.address))).json()) as { state: unknown }).state;
  await expect.poll(state).toBe('going');
  thermometer.goTo(33, 9);
  const overshoot = 'overshoot|warning|Over the ceiling of 32.5 °C. Off the heat, and stir.';
  await expect.poll(() => rung().at(-1)).toBe(overshoot);
  for (const alarm of ['overshoot', 'overshoot-ahead']) {
    const body = JSON.stringify({ name: 'acknowledge', alarm });
    await fetch(commands, { method: 'POST', headers: { 'content-type': 'application/json' }, body });
  }
  const rungInAPause = async (): Promise<number> => {
    const before = rung().length;
    await wait(LONGER_THAN_A_PAUSE_MS / HURRIED);
    return rung().length - before;
  };
  // A command that was under way when it was seen may still write.
  await expect.poll(rungInAPause).toBe(0);
  expect(await server.stop()).toBe(0);
});
