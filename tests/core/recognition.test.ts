/** The window over lines: when a format is locked, kept, added to and given up, and what is read meanwhile. Lines made up. */
import { describe, expect, test } from 'vitest';
import {
  MISFITS_MOST,
  recognise,
  type Recognition,
  recognitionOf,
  type SaidOfLines,
} from '../../server/core/reading/recognition.ts';
import { formatShape } from '../../server/core/record/format.ts';
import { FORMATS } from '../support/lines/formats.ts';
import { moments } from '../support/lines/kitchen.ts';

const NOTHING_SAID: SaidOfLines = { decimalComma: null, roles: {} };

/** A thermometer on which one line a second is heard. */
class Ear {
  recognition: Recognition;
  #atMs = 10_000;

  constructor(recognition = recognitionOf(null)) {
    this.recognition = recognition;
  }

  /** What was understood of each: `key value, …`, or the reason. */
  hear(lines: readonly string[], everyMs = 1000, said = NOTHING_SAID): string[] {
    return lines.map((text) => {
      this.#atMs += everyMs;
      const before = JSON.stringify(this.recognition);
      const { recognition, reading } = recognise(this.recognition, text, this.#atMs, said);
      expect(JSON.stringify(this.recognition), 'what was given is left as it was').toBe(before);
      this.recognition = JSON.parse(JSON.stringify(recognition)) as Recognition;
      if (!reading.ok) return reading.reason;
      return reading.channels.map(({ key, valueC }) => `${key} ${Number(valueC.toFixed(2))}`).join(', ');
    });
  }

  get locked(): boolean {
    return this.recognition.format !== null;
  }
}

const TWO = ['31.40,45.20', '31.43,45.18', '31.42,45.21', '31.47,45.17', '31.49,45.20'];
const THREE = ['7,31.40,45.2', '8,31.43,45.1', '10,31.42,45.2', '11,31.47,45.1', '12,31.49,45.2', '14,31.50,45.1'];

describe('[R12] locking', () => {
  test('takes five like lines over three seconds, not fewer and not sooner', () => {
    const slow = new Ear();
    expect(slow.hear(TWO.slice(0, 4))).toEqual(['unsure', 'unsure', 'unsure', 'unsure']);
    expect(slow.locked).toBe(false);
    expect(slow.hear(TWO.slice(4))).toEqual(['1 31.49, 2 45.2']);
    expect(slow.locked).toBe(true);
    const quick = new Ear();
    quick.hear([...TWO, ...TWO], 100);
    expect(quick.locked).toBe(false);
    quick.hear([...TWO, ...TWO, ...TWO, ...TWO], 110);
    expect(quick.locked).toBe(true);
  });

  test('a device that babbles is locked onto all the same', () => {
    const ear = new Ear();
    ear.hear(
      Array.from({ length: 500 }, (_, n) => `${(31 + (n % 13) / 100).toFixed(2)},${(45 - (n % 7) / 100).toFixed(2)}`),
      8,
    );
    expect(ear.locked).toBe(true);
  });

  test('banners, menus and logs between do not hold it up', () => {
    const ear = new Ear();
    const between = TWO.flatMap((line) => ['[INFO] sensor 12 ok', line, '1) start', '### 12 ready']);
    expect(ear.hear(between).filter((each) => each.includes('31.'))).toEqual(['1 31.49, 2 45.2']);
    expect(ear.locked).toBe(true);
  });

  test('what is locked stands in the header as plain data', () => {
    const ear = new Ear();
    ear.hear(THREE);
    const { format } = ear.recognition;
    expect(formatShape.check(format, '')).toBeNull();
    expect(JSON.parse(formatShape.write(format))).toEqual(format);
    expect(new Ear(recognitionOf(format)).hear(THREE.slice(0, 1))).toEqual(['1 31.4, 2 45.2']);
  });
});

describe('[R1] names with anything in them', () => {
  const values = ['31.40', '31.42', '31.45', '31.47', '31.50', '31.52'];

  test('are not taken for two names', () => {
    const ear = new Ear();
    const one = values.map((value) => `{"bath|temp":${value}}`);
    expect(ear.hear(['{"bath":44.0,"temp":31.4}', ...one]).at(-1)).toBe('bath|temp 31.52');
  });

  test('lock nothing that no header could hold', () => {
    const ear = new Ear();
    const inner = Array.from({ length: 12 }, (_, at) => `"${at}":22.${at}`).join(',');
    ear.hear(values.map((value) => `{"${'a'.repeat(250)}":{${inner},"temp":${value}}}`));
    expect(ear.locked).toBe(false);
  });
});

describe('[F4] a format in a header', () => {
  const kind = { shape: '#|#', between: 'blank', columns: [{ label: '', what: 'temperature', scale: 'C' }] };

  test('has a column for each value of its lines', () => {
    expect(formatShape.check({ decimalComma: null, kinds: [kind], asks: false }, 'format')).toEqual({
      path: 'format.kinds[0].columns',
      value: '1 long',
      rule: 'one for each of 2 is wanted',
    });
  });

  test('has lines', () => {
    expect(formatShape.check({ decimalComma: null, kinds: [], asks: false }, 'format')?.rule).toBe(
      'at least one is wanted',
    );
  });
});

describe('[R12] giving up', () => {
  test(`after ${MISFITS_MOST} lines in a row that do not fit, and at once onto what they are`, () => {
    const ear = new Ear();
    ear.hear(THREE);
    const other = Array.from(
      { length: 12 },
      (_, n) => `${(45 - (n % 5) / 100).toFixed(2)};${(31 + (n % 7) / 100).toFixed(2)}`,
    );
    const read = ear.hear(other);
    expect(read.slice(0, MISFITS_MOST - 1).every((each) => each === 'unsure')).toBe(true);
    expect(read.slice(MISFITS_MOST - 1).every((each) => each.startsWith('1 4'))).toBe(true);
  });

  test('what was heard before it does not keep the next format from being understood within 5 s', () => {
    const ear = new Ear();
    // Ten of them are too many to be left in the window, and too few to be learnt beside the others.
    for (const [count, text] of [
      [20, '31.50'],
      [10, '31.6 C'],
      [14, 'T: 31.3'],
    ] as const)
      ear.hear(Array<string>(count).fill(text), 250);
    const changed = Array.from({ length: 19 }, (_, n) => (n % 2 === 0 ? '31.52;22.0' : '31.49;22.0'));
    expect(ear.hear(changed, 250)).toContainEqual(expect.stringMatching(/^1 31\.(52|49)$/));
  });

  test('not while lines that fit come between', () => {
    const ear = new Ear();
    ear.hear(TWO);
    const { format } = ear.recognition;
    for (let n = 0; n < 5; n += 1) ear.hear([...Array<string>(9).fill('3;4;5'), TWO[0]!]);
    expect(ear.recognition.format).toEqual(format);
  });

  test('nor for a page that cannot be read, but for ten seconds of it', () => {
    const ear = new Ear();
    ear.hear(TWO);
    ear.hear(Array<string>(30).fill('press h for help'), 10);
    expect(ear.locked).toBe(true);
    ear.hear(Array<string>(12).fill('press h for help'));
    expect(ear.locked).toBe(false);
  });
});

describe('once locked', () => {
  test('a missing value is missing, and shifts no other', () => {
    const ear = new Ear();
    ear.hear(THREE);
    expect(ear.hear(['15,nan,45.2', '16,,45.2', '17,31.52,----', '18,OL,45.2'])).toEqual([
      '2 45.2',
      '2 45.2',
      '1 31.52',
      '2 45.2',
    ]);
  });

  test('a unit that changes is followed', () => {
    const ear = new Ear();
    ear.hear(['31.4 C', '31.5 C', '31.4 C', '31.6 C', '31.5 C']);
    expect(ear.hear(['88.7 F', '304.65 K'])).toEqual(['1 31.5', '1 31.5']);
  });

  test('a channel that vanishes is not stood in for, and one that comes later is learnt', () => {
    const ear = new Ear();
    ear.hear(Array<string>(5).fill('T1: 31.4 C, T2: 45.1 C'));
    expect(ear.hear(['T2: 45.1 C', 'T2: 45.2 C'])).toEqual(['t2 45.1', 't2 45.2']);
    ear.hear(Array<string>(6).fill('T1: 31.4 C, T2: 45.1 C, T3: 20.1 C'));
    expect(ear.hear(['T1: 31.4 C, T2: 45.1 C, T3: 20.2 C'])).toEqual(['t1 31.4, t2 45.1, t3 20.2']);
  });

  test('a half line at the start of a column is no smaller number in its place', () => {
    const ear = new Ear();
    ear.hear(THREE);
    expect(ear.hear(['31.52,45.2', '1.52,45.2', '45.2'])).toEqual(['unsure', 'unsure', 'unsure']);
  });

  test('a board that starts anew and says its headings is listened to anew', () => {
    const ear = new Ear();
    ear.hear(THREE);
    ear.hear(['n,room,chocolate']);
    expect(ear.locked).toBe(false);
    expect(ear.hear(['1,21.40,31.2', '2,21.43,31.1', '4,21.42,31.2', '5,21.47,31.1', '6,21.49,31.2']).at(-1)).toBe(
      'room 21.49, chocolate 31.2',
    );
  });
});

describe('[R13] before that', () => {
  test.each([
    ['a number', '31.4', '1 31.4'],
    ['a number with its unit', '31.4 C', '1 31.4'],
    ['labels that mean temperatures', 'chocolate 31.4 bath 44.0', 'chocolate 31.4, bath 44'],
    ['a temperature and what is plainly none', 'Temp: 31.4 C, RH: 45 %', 'temp 31.4'],
    ['°C and °F of one probe', 'Temp C: 31.44 Temp F: 88.59', 'temp 31.44'],
  ])('%s is read at once', (_, line, wanted) => expect(new Ear().hear([line])).toEqual([wanted]));

  test.each([
    ['two numbers', '31.4,45.2'],
    ['a label nobody knows', 'Offset B2: 31.4'.replace('Offset', 'Zonde')],
    ['a comma', '31,4'],
    ['a whole number, which may count', '31'],
    ['a small t, which may be the time', 't=31.4'],
    ['words that could be of a banner', 'Probe reached 31.4 C'],
  ])('%s is held', (_, line) => expect(new Ear().hear([line])).toEqual(['unsure']));

  test('whole numbers are read once they stand still or turn, and never while they count', () => {
    expect(new Ear().hear(['31', '31', '32'])).toEqual(['unsure', '1 31', '1 32']);
    const counter = new Ear().hear(Array.from({ length: 20 }, (_, n) => String(n + 20)));
    expect(counter.every((each) => each === 'unsure')).toBe(true);
  });

  test('two probes that take turns without a word are not mixed up', () => {
    const ear = new Ear();
    const lines = Array.from({ length: 12 }, (_, n) => [(31 + n / 100).toFixed(2), (45 - n / 100).toFixed(2)]).flat();
    const read = lines.flatMap((line, at) => ear.hear([line], at % 2 === 0 ? 1000 : 20));
    expect(read.some((each) => each.startsWith('1 4'))).toBe(false);
    expect(ear.locked).toBe(false);
  });
});

test('the fast way gives what the slow one does, line by line', () => {
  for (const format of FORMATS) {
    let [fast, slow] = [recognitionOf(null), recognitionOf(null)];
    for (const moment of moments({ seed: 77, lines: 30, everyMs: 1000 })) {
      for (const text of [...format.write(moment).lines, '31.', 'T: 3x.4']) {
        const quick = recognise(fast, text, moment.atMs, NOTHING_SAID);
        // What was written down and read back remembers no line.
        const thorough = recognise(JSON.parse(JSON.stringify(slow)) as Recognition, text, moment.atMs, NOTHING_SAID);
        expect(quick.reading, `${format.name}: ${text}`).toEqual(thorough.reading);
        [fast, slow] = [quick.recognition, thorough.recognition];
      }
    }
    expect(fast, format.name).toEqual(slow);
  }
});

describe('[R14] sentences', () => {
  test('are read where the checksum is right, and only there', () => {
    const ear = new Ear();
    const right = ['$T,31.4,C*0F', '$T,31.5,C*0E', '$T,31.4,C*0F'];
    const read = ear.hear([...right, '$T,31.4,C*0E']);
    expect(read).toEqual(['1 31.4', '1 31.5', '1 31.4', 'bad-checksum']);
  });
});

describe('[R9] commas', () => {
  const still = Array.from({ length: 30 }, (_, n) => `31,${42 + (n % 2)}`);

  test('with two meanings are asked about, not guessed', () => {
    const ear = new Ear();
    expect(ear.hear(still).some((each) => each.startsWith('1 '))).toBe(false);
    expect(ear.recognition.asksComma).toBe(true);
  });

  test.each([
    ['one number', true, '1 31.43'],
    ['two numbers', false, '1 31'],
  ] as const)('and the answer holds: %s', (_, decimalComma, wanted) => {
    const lines = ['32,41', ...still];
    expect(new Ear().hear(lines, 1000, { decimalComma, roles: {} }).at(-1)).toBe(wanted);
  });

  test('carry into the whole part where they are decimal marks', () => {
    const ear = new Ear();
    ear.hear(['31,95', '31,97', '31,99', '32,01', '32,02']);
    expect(ear.recognition.format?.decimalComma).toBe(true);
  });

  test('stand between two values where one moves without the other', () => {
    const ear = new Ear();
    ear.hear(['31,45', '31,45', '32,45', '32,44', '33,45', '33,45']);
    expect(ear.recognition.format?.decimalComma).toBe(false);
  });
});

describe('[R1] a line like one before it', () => {
  /** Kept as it is, not written down and read again: what is remembered goes by the very format. */
  const heard = (lines: readonly string[]): string[] => {
    let recognition = recognitionOf(null);
    return lines.map((text, second) => {
      const understood = recognise(recognition, text, 1000 * second, NOTHING_SAID);
      recognition = understood.recognition;
      const { reading } = understood;
      return reading.ok ? reading.channels.map(({ key, valueC }) => `${key} ${valueC}`).join(', ') : reading.reason;
    });
  };
  const CALM = ['31.4', '31.42', '31.45', '31.47', '31.5', '31.52'];

  test('is not taken for it where something else stands in place of its number', () => {
    const lines = [...CALM.map((value) => `${value} C`), '# C', '\u0001 C', '31.55 C'];
    expect(heard(lines).slice(-3)).toEqual(['no-number', 'no-number', '1 31.55']);
  });

  test('nor for another number that happened to be the same', () => {
    const lines = [...CALM.map((_, at) => `temp=31 hum=4${at}.5`), 'temp=31 hum=31.0', 'temp=31 hum=47.5'];
    expect(heard(lines).slice(-2)).toEqual(['temp 31', 'temp 31']);
  });

  test('nor where a sign stands in place of another number', () => {
    const line = (note: string, value: string) => `{"note":"${note}","temp":"${value}"}`;
    const lines = [
      ...CALM.map((value) => line('1.5', value)),
      line('#', '31.55'),
      line('\u0001', '31.55'),
      line('1.5', '31.57'),
    ];
    expect(heard(lines).slice(-3)).toEqual(['temp 31.55', 'not-a-temperature', 'temp 31.57']);
  });
});
