/**
 * The fast way through a locked format: lines that differ only in their decimals are read alike. What is remembered follows from the format
 * and what a person said alone, so that it may be forgotten at any time.
 */
import type { Role } from '../record/command.ts';
import type { Format } from '../record/format.ts';
import type { ElectricUnit } from '../record/sensor.ts';
import type { Channel, LineReading } from './channel.ts';
import { figuresOf, isOdd, isUsual, type WhatIsShown, type Written } from './figures.ts';
import type { ReadByFormat } from './locked.ts';
import { celsius, type Scale } from './scale.ts';

/** Where a channel of a line has its number: the how manieth with decimals. */
interface Slot {
  readonly key: string;
  readonly slot: number;
  readonly scale: Scale;
  /** Where it is no temperature. */
  readonly electric?: ElectricUnit;
  /** What its numbers are held against; null: nobody can tell how they are written. */
  readonly written: Pick<Written, 'column' | 'key'> | null;
}

interface Template {
  /** Numbers with decimals in the line. */
  readonly numbers: number;
  readonly slots: readonly Slot[];
  readonly places: readonly string[];
}

interface Remembered {
  readonly roles: Readonly<Record<string, Role>>;
  readonly templates: Map<string, Template>;
}

/** Lines that count go on differing: no more of them than this are remembered. Ours. */
const MOST_TEMPLATES = 32;
/** Far below the length at which lines are refused: longer ones are rare, and read slowly. */
const LONGEST_LINE = 160;
const DECIMAL = /[+-]?\d+\.\d+/g;
/** Stands for each of them. No line that could be read holds it, so that as many numbers stand where they stood. */
const PLACEHOLDER = '\u0001';
/** A sum stands for the digits before it. */
const HAS_SUM = /[*$!]/;

const remembered = new WeakMap<Format, Remembered>();

export interface Alike {
  readonly reading: Extract<LineReading, { ok: true }>;
  /** Those whose way of being written is of interest. */
  readonly written: readonly Written[];
}

/** The reading of a line like one that was read before; null: there was none, or a number is written otherwise. */
export function readAlike(
  format: Format,
  roles: Readonly<Record<string, Role>>,
  text: string,
  shown: WhatIsShown['shown'],
): Alike | null {
  const known = remembered.get(format);
  if (known === undefined || known.roles !== roles || text.length > LONGEST_LINE) return null;
  const template = known.templates.get(text.replace(DECIMAL, PLACEHOLDER));
  const numbers = template === undefined ? null : text.match(DECIMAL);
  if (template === undefined || numbers?.length !== template.numbers) return null;
  const written = unusualIn(template, numbers, shown);
  if (written.some(isOdd)) return null;
  return { reading: { ok: true, channels: channelsIn(template, numbers), places: template.places }, written };
}

const NONE: readonly Written[] = [];

function unusualIn({ slots }: Template, numbers: readonly string[], shown: WhatIsShown['shown']): readonly Written[] {
  let unusual = NONE;
  for (const { written, slot } of slots) {
    const number = numbers[slot]!;
    if (written === null || isUsual(written.column, shown[written.key ?? ''], number)) continue;
    unusual = [...unusual, { ...written, figures: figuresOf(number)!, value: Number(number) }];
  }
  return unusual;
}

/** Key by key: taking the rest of an object apart costs more than all else that is done with a line here. */
function channelsIn({ slots }: Template, numbers: readonly string[]): Channel[] {
  return slots.map(({ key, slot, scale, electric }) => {
    const valueC = celsius(Number(numbers[slot]!), scale);
    return electric === undefined ? { key, valueC } : { key, valueC, electric };
  });
}

/** What was made of a line, to be made of the next one like it. `read`: what is made of any line, the slow way. */
export function remember(
  format: Format,
  roles: Readonly<Record<string, Role>>,
  text: string,
  { reading, written }: ReadByFormat,
  read: (text: string) => ReadByFormat | null,
): void {
  if (!reading.ok || text.length > LONGEST_LINE || HAS_SUM.test(text)) return;
  const known = remembered.get(format);
  const templates = known?.roles === roles ? known.templates : new Map<string, Template>();
  if (templates.size >= MOST_TEMPLATES) return;
  const template = templateOf(text, reading, written);
  if (template === null || !isProven(template, withOtherNumbers(text), read)) return;
  templates.set(text.replace(DECIMAL, PLACEHOLDER), template);
  if (known?.templates !== templates) remembered.set(format, { roles, templates });
}

/** A number may be a channel's by chance: of `temp=31 hum=31.0` the second one is none. With other numbers it shows. */
function isProven(template: Template, text: string, read: (text: string) => ReadByFormat | null): boolean {
  const reading = read(text)?.reading;
  if (reading?.ok !== true || reading.channels.length !== template.slots.length) return false;
  const channels = channelsIn(template, text.match(DECIMAL)!);
  return channels.every(({ key, valueC }, at) => {
    const other = reading.channels[at]!;
    return key === other.key && valueC === other.valueC;
  });
}

/** Each with another last digit, by its place. */
function withOtherNumbers(text: string): string {
  let slot = 0;
  return text.replace(DECIMAL, (number) => {
    const digit = (Number(number.at(-1)) + 1 + (slot++ % 9)) % 10;
    return `${number.slice(0, -1)}${digit}`;
  });
}

/** null: some channel is none of the line's decimals, or may be several of them. */
function templateOf(
  text: string,
  { channels, places }: Alike['reading'],
  written: ReadByFormat['written'],
): Template | null {
  const numbers = (text.match(DECIMAL) ?? []).map(Number);
  const slots = channels.flatMap(({ valueC, ...channel }, at): Slot[] => {
    const scales = channel.electric === undefined ? SCALES : AS_SENT;
    const fitting = numbers.flatMap((number, slot) =>
      scales.flatMap((scale) =>
        celsius(number, scale) === valueC ? [{ ...channel, slot, scale, written: written[at]! }] : [],
      ),
    );
    return fitting.length === 1 ? fitting : [];
  });
  return slots.length === channels.length ? { numbers: numbers.length, slots, places } : null;
}

const SCALES: readonly Scale[] = ['C', 'F', 'K'];
const AS_SENT: readonly Scale[] = ['C'];
