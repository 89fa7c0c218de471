/** Plugged in again and again under other paths, doubles beside it: the right device is opened every time, and no other ever. */
import { chance } from '../../server/source/kitchen/chance.ts';
import { serialSource } from '../../server/source/serial.ts';
import { VirtualTime } from '../support/fake/virtual-time.ts';
import { VirtualWire } from '../support/fake/virtual-wire.ts';
import { NO_OTHERS } from '../support/fake/wire.ts';
import { within, type Bounds, type Row } from './rows.ts';

const PATIENCE_MS = 30_000;
const OWN_LINE = '31.50';

export async function renames(bounds: Bounds): Promise<Row[]> {
  const luck = chance(bounds.seed);
  const [time, wire] = [new VirtualTime(), new VirtualWire()];
  const lines: string[] = [];
  let [done, right] = [0, 0];
  let up = false;
  time.install();
  try {
    const source = serialSource({ identity: wire.identity, clock: time, list: wire.list, othersAt: NO_OTHERS });
    source.start({
      input: (input) => {
        if (input.kind === 'line') lines.push(input.text);
        if (input.kind === 'link') up = input.up;
      },
      link: () => {},
    });
    for (const _ of within(bounds)) {
      // Paths among which both wander; the double is there before, comes between, or not at all.
      const [first, second, third] = shuffled([0, 1, 2, 3], () => luck.unit());
      const double = { atMs: 0, kind: 'plug', device: 'clone', socket: 2, path: first! } as const;
      if (luck.happens(0.7)) await wire.obey(double);
      await time.run(time.nowMs() + luck.between(0, 3000));
      await wire.obey({
        atMs: 0,
        kind: 'plug',
        device: 'own',
        socket: 1 + Math.floor(luck.between(2, 5)),
        path: second!,
      });
      const opened = wire.openings.own;
      if (luck.happens(0.3)) {
        await wire.obey({ atMs: 0, kind: 'unplug', device: 'clone', inRead: false });
        await wire.obey({ ...double, path: third! });
      }
      await time.runUntil(() => up, PATIENCE_MS);
      for (const device of ['clone', 'own'] as const)
        for (let n = 0; n < 3; n++)
          await wire.obey({ atMs: 0, kind: 'say', device, bytes: `${device === 'own' ? OWN_LINE : '24.00'}\n` });
      await time.run(time.nowMs() + 50);
      if (up && wire.openings.own === opened + 1 && lines.length === 2 && lines.every((line) => line === OWN_LINE))
        right++;
      lines.length = 0;
      done++;
      await wire.obey({ atMs: 0, kind: 'unplug', device: 'own', inRead: luck.happens(0.5) });
      await time.runUntil(() => !up, PATIENCE_MS);
      await wire.obey({ atMs: 0, kind: 'unplug', device: 'clone', inRead: false });
    }
    const closing = source.close();
    await time.run(time.nowMs() + 5_000);
    await closing;
  } finally {
    time.remove();
    await wire.close();
  }
  return [
    { name: 'renames', unit: '', value: done },
    { name: 'the right device, opened once', unit: '', value: right, least: done },
    { name: 'openings of its double', unit: '', value: wire.openings.clone, most: 0 },
  ];
}

function shuffled(list: readonly number[], unit: () => number): number[] {
  return list
    .map((each) => [unit(), each] as const)
    .toSorted(([a], [b]) => a - b)
    .map(([, each]) => each);
}
