/** The serial library is loaded when a port is first looked for: where that cannot be, a port cannot be opened, and nothing else is the matter. */
import { execFile } from 'node:child_process';
import { promisify } from 'node:util';
import { expect, test } from 'vitest';
import { notLoaded } from '../../../server/source/port-trouble.ts';

const BUILT = new URL('../../../dist/server/source/serial-port.js', import.meta.url);

/** Of a Node in which the library cannot be had. */
const WITHOUT = `export async function resolve(name, context, next) {
  if (name === 'serialport') throw new Error('no native half for this system.');
  return next(name, context);
}`;
const PROGRAM = `
  import { register } from 'node:module';
  register(${JSON.stringify(`data:text/javascript,${encodeURIComponent(WITHOUT)}`)});
  const { listPorts, openPort } = await import(${JSON.stringify(BUILT.href)});
  const nobody = { bytes() {}, line() {}, gone() {} };
  const [list, ...opened] = [await listPorts(), await openPort('/dev/x', 9600, nobody), await openPort('/dev/x', 9600, nobody)];
  console.log(JSON.stringify({ list, opened }));
`;

test('without it, listing and opening say so, again and again, and nothing breaks', async () => {
  const { stdout } = await promisify(execFile)(process.execPath, ['--input-type=module', '--eval', PROGRAM]);
  const { list, opened } = JSON.parse(stdout) as { readonly list: object; readonly opened: readonly object[] };
  const message = notLoaded('no native half for this system.');
  expect(opened).toEqual([
    { ok: false, message },
    { ok: false, message },
  ]);
  // Linux shows its ports without it, too.
  if (!('ports' in list)) expect(list).toEqual({ ok: false, why: message });
});
