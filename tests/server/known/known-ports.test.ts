/** How thermometers are spoken with: each with what was found or said of it, and a question only with its own yes. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { KnownPorts, speechOf } from '../../../server/known/known-ports.ts';
import { readSettings } from '../../../server/settings.ts';
import type { Query } from '../../../server/source/asking.ts';
import type { PortIdentity } from '../../../server/source/ports.ts';
import { freshFolder } from '../../support/store.ts';

const ONE: PortIdentity = { vendorId: '1209', productId: '0001', serialNumber: 'a', position: '1-1', path: '/dev/a' };
const READ: Query = { text: 'READ?', ending: 'lf' };
const NO_FLAGS = { port: null, baud: null, query: null };

function speech(folder: string, flags: Parameters<typeof speechOf>[0] = NO_FLAGS) {
  return speechOf(flags, { ports: new KnownPorts(folder), names: {} });
}

describe('the speed of a thermometer', () => {
  test('that was found is the first to be tried at the next start, for this one alone', () => {
    const folder = freshFolder();
    speech(folder).with({ identity: ONE }).onBaud(57_600);
    expect(speech(folder).with({ identity: { ...ONE, path: '/dev/b' } })).toMatchObject({ firstBaud: 57_600 });
    expect(speech(folder).with({ identity: { ...ONE, serialNumber: 'b' } })).not.toHaveProperty('firstBaud');
  });

  test('that was named counts for the port that was named with it', () => {
    const flags = { port: '/dev/a', baud: 1200, query: null };
    expect(speech(freshFolder(), flags).with({ path: '/dev/a' })).toMatchObject({ baud: 1200 });
    expect(speech(freshFolder(), flags).with({ path: '/dev/b' })).not.toHaveProperty('baud');
  });

  test('that makes no sense in the settings counts as not known, and so does a question', () => {
    const folder = freshFolder();
    const entries = { a: { baud: 'fast', query: null }, b: { baud: 9600, query: { text: 'a\nb', ending: 'lf' } } };
    const ports = {
      ...entries,
      c: { baud: null, query: { text: 'READ?', ending: 'dot' } },
      d: { baud: 1200, query: READ },
    };
    writeFileSync(join(folder, 'settings.json'), JSON.stringify({ ports }));
    expect(readSettings(folder).ports).toEqual({ d: { baud: 1200, query: READ } });
  });
});

describe('[L10] a question', () => {
  test('is asked of the thermometer it was chosen for, at the next start too, and of no other', async () => {
    const folder = freshFolder();
    await speech(folder).rememberQuery({ identity: ONE }, READ);
    expect(await speech(folder).with({ identity: ONE }).queryAt()).toEqual(READ);
    expect(
      await speech(folder)
        .with({ identity: { ...ONE, serialNumber: 'b' } })
        .queryAt(),
    ).toBe(null);
    expect(await speech(folder).with({ path: '/dev/a' }).queryAt()).toBe(null);
    await speech(folder).rememberQuery({ identity: ONE }, null);
    expect(await speech(folder).with({ identity: ONE }).queryAt()).toBe(null);
  });

  test('by a flag holds for this start and this port, until somebody says otherwise, and is not remembered', async () => {
    const folder = freshFolder();
    const flags = { port: '/dev/a', baud: null, query: READ };
    const started = speech(folder, flags);
    expect(await started.with({ path: '/dev/a' }).queryAt()).toEqual(READ);
    expect(await started.with({ identity: ONE }).queryAt()).toBe(null);
    expect(readSettings(folder).ports).toEqual({});
    await started.rememberQuery({ path: '/dev/a' }, null);
    expect(await started.with({ path: '/dev/a' }).queryAt()).toBe(null);
  });

  test('holds where the folder cannot be written, as long as the server runs', async () => {
    const ports = speech(join(freshFolder(), 'none'));
    await ports.rememberQuery({ identity: ONE }, READ);
    expect(await ports.with({ identity: ONE }).queryAt()).toEqual(READ);
  });
});
