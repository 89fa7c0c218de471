/** What a thermometer says and what is understood of it: held lines, the question, a choice by hand, and the run that begins with it. */
import { describe, expect, test } from 'vitest';
import { type Bowl, openBowl } from '../support/server.ts';

/** One line a second; chocolate and bath wander by hundredths. */
function hearsTwo(bowl: Bowl, lines: number, write: (chocolate: string, bath: string, n: number) => string): void {
  for (let n = 0; n < lines; n += 1)
    bowl.hears(write((31 + 0.03 * (n % 7)).toFixed(2), (45 - 0.02 * (n % 5)).toFixed(2), n));
}

describe('while no run is going', () => {
  test('[R13] lines that were held are read once it is known how', () => {
    const bowl = openBowl();
    hearsTwo(bowl, 4, (chocolate, bath, n) => `${2 * n + 40},${chocolate},${bath}`);
    expect(bowl.session.now(1).reading).toBeNull();
    expect(bowl.session.heard()).toMatchObject({ format: null, question: null });
    expect(bowl.session.heard().lines.every(({ why }) => why === 'unsure')).toBe(true);
    hearsTwo(bowl, 1, () => '48,31.12,44.92');
    expect(bowl.session.now(1).reading).toMatchObject({ valueC: 31.12, quality: 'good' });
    const { format, lines } = bowl.session.heard();
    expect(format?.kinds[0]?.columns.map(({ what }) => what)).toEqual(['count', 'temperature', 'temperature']);
    expect(lines.map(({ why }) => why)).toEqual([null, null, null, null, null]);
    expect(lines[0]?.values).toMatchObject([
      { key: '#1', what: 'count', valueC: null, role: null },
      { key: '1', valueC: 31.12, role: 'chocolate' },
      { key: '2', valueC: 44.92, role: null },
    ]);
  });

  test('[R12] a run begins with the format, and goes on with it', async () => {
    const bowl = openBowl();
    hearsTwo(bowl, 12, (chocolate, bath, n) => `${2 * n + 40},${chocolate},${bath}`);
    bowl.choose('tempered');
    const { info } = bowl.session.status();
    await bowl.store.flush();
    const run = bowl.store.openRun(info!.run)!;
    expect(run.header.format).toEqual(bowl.session.heard().format);
    expect(bowl.store.readingsOf(info!.run)).toHaveLength(12);
    expect(run.events.filter(({ kind }) => kind === 'rejected')).toEqual([]);
  });

  test('[R9] a comma with two meanings is asked about, and the answer holds for the lines that were held', () => {
    const bowl = openBowl();
    for (let n = 0; n < 25; n += 1) bowl.hears(`31,4${n % 2}`);
    expect(bowl.session.heard().question).toBe('comma');
    expect(bowl.session.now(1).reading).toBeNull();
    expect(bowl.says({ name: 'choose-reading', decimalComma: true })).toEqual({ ok: true });
    expect(bowl.session.heard()).toMatchObject({ question: null, format: { decimalComma: true } });
    expect(bowl.session.now(1).reading).toMatchObject({ valueC: 31.4 });
  });

  test('which of two values is the chocolate is asked where nothing tells, and a choice by hand answers it', () => {
    const bowl = openBowl();
    for (let n = 0; n < 25; n += 1) bowl.hears(`${48 + ((n >> 1) % 2)},${(31 + 0.03 * (n % 7)).toFixed(2)}`);
    expect(bowl.session.heard().question).toBe('which');
    expect(bowl.session.now(1).reading).toBeNull();
    bowl.says({ name: 'assign-role', channel: '2', role: 'chocolate' });
    expect(bowl.session.heard().question).toBeNull();
    expect(bowl.session.now(1).reading?.valueC).toBeCloseTo(31, 0);
  });

  test('a value that was set aside can be made a channel by hand', () => {
    const bowl = openBowl();
    hearsTwo(bowl, 12, (chocolate) => `${chocolate},45.0`);
    expect(bowl.session.heard().lines[0]?.values[1]).toMatchObject({ key: '2', what: 'constant', valueC: null });
    bowl.says({ name: 'assign-role', channel: '2', role: 'bath' });
    expect(bowl.session.heard().lines[0]?.values[1]).toMatchObject({ key: '2', valueC: 45, role: 'bath' });
  });

  test('a value that was chosen by hand while it was not clear which are counted is still the one afterwards', () => {
    const bowl = openBowl();
    const write = (chocolate: string, bath: string, n: number): string => `${2 * n + 40},${chocolate},${bath}`;
    hearsTwo(bowl, 2, write);
    const keys = (): string[] => bowl.session.heard().lines[0]!.values.map(({ key }) => key);
    expect(keys()).toEqual(['#1', '#2', '#3']);
    expect(bowl.session.probe().numbers.map(({ key }) => key)).toEqual(['#1', '#2', '#3']);
    bowl.says({ name: 'assign-role', channel: '#3', role: 'chocolate' });
    hearsTwo(bowl, 8, write);
    expect(bowl.session.heard().format).not.toBeNull();
    expect(bowl.session.heard().lines[0]?.values).toMatchObject([
      { key: '#1', role: null },
      { key: '1', role: null },
      { key: '#3', role: 'chocolate' },
    ]);
    expect(bowl.session.now(1).reading?.valueC).toBeCloseTo(45, 0);
  });

  test('a line longer than what the engine keeps of it is told with all its numbers', () => {
    const bowl = openBowl();
    const line = Array.from({ length: 16 }, (_, n) => `T${n + 1}: ${(31 + n / 10).toFixed(2)} C`).join(', ');
    bowl.hears(line);
    const { lastLine, numbers } = bowl.session.probe();
    expect(lastLine).toBe(line);
    expect(numbers.map(({ value }) => value)).toEqual(Array.from({ length: 16 }, (_, n) => 31 + n / 10));
  });

  test('a number in ohms is what its sensor makes of it, once that is said, and no temperature before', () => {
    const bowl = openBowl();
    // IEC 60751: 112.06 Ω of a Pt100 are 31 °C.
    for (let n = 0; n < 12; n += 1) bowl.hears(`r=112.0${5 + (n % 3)} ohm`);
    bowl.says({ name: 'assign-role', channel: 'r', role: 'chocolate' });
    bowl.hears('r=112.06 ohm');
    expect(bowl.session.heard().lines[0]).toMatchObject({
      why: 'not-a-temperature',
      values: [{ key: 'r', value: 112.06, valueC: null }],
    });
    const sensor = { kind: 'platinum', unit: 'ohm', ohmsAt0C: 100 } as const;
    bowl.says({ name: 'assign-role', channel: 'r', role: 'chocolate', sensor });
    const [newest] = bowl.session.heard().lines;
    expect(newest).toMatchObject({ why: null, values: [{ key: 'r', value: 112.06, role: 'chocolate' }] });
    expect(newest!.values[0]!.valueC).toBeCloseTo(31, 1);
    bowl.hears('r=3.2 ohm');
    expect(bowl.session.heard().lines[0]).toMatchObject({ why: 'implausible', values: [{ valueC: null }] });
  });

  test('only the newest lines are kept, newest first', () => {
    const bowl = openBowl();
    for (let n = 0; n < 100; n += 1) bowl.hears(`T: ${n}.5`);
    const { lines } = bowl.session.heard();
    expect(lines).toHaveLength(20);
    expect(lines[0]?.text).toBe('T: 99.5');
  });
});
