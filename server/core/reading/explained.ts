/** What is made of a line, value by value, for somebody who looks on. Changes nothing. */
import type { Role } from '../record/command.ts';
import type { RejectReason } from '../record/event.ts';
import type { Format, What } from '../record/format.ts';
import type { Sensors } from '../record/sensor.ts';
import { type LineReading, whyNoTemperature } from './channel.ts';
import { electricOf, type Entry, keysOf, lastingKeys, valueC, whatsAlone } from './entry.ts';
import { fitOf, labelled } from './fit.ts';
import type { HeardLine } from './heard.ts';
import { takeApart } from './line.ts';
import { judged } from './lock.ts';
import { meanwhile } from './provisional.ts';
import { recognise, type Recognition, type SaidOfLines } from './recognition.ts';
import { roleByKey } from './roles.ts';
import { sensed } from './sensed.ts';

export interface ExplainedValue {
  /** By which a role is given to it. */
  readonly key: string;
  /** As written, empty where there is none. */
  readonly label: string;
  /** As sent; null: missing this time, or no number. */
  readonly value: number | null;
  readonly what: What;
  /** °C, by its sensor where one was said; null where it is no temperature. */
  readonly valueC: number | null;
  /** null: nobody's. */
  readonly role: Role | null;
}

export interface Explained {
  /** Empty where the line could not be taken apart. */
  readonly values: readonly ExplainedValue[];
  /** Why nothing of it is used; null: something is. */
  readonly why: RejectReason | null;
}

/** One of the newest lines, with what is made of it. */
export interface HeardText extends Explained {
  readonly atMs: number;
  /** One character per byte. */
  readonly text: string;
}

/** What a thermometer says, and how it is understood by now. */
export interface Heard {
  readonly atMs: number;
  /** null: not sure yet. */
  readonly format: Format | null;
  /** What a person has to say: one number with a decimal comma or two numbers, which value is the chocolate; null: nothing. */
  readonly question: 'comma' | 'which' | null;
  /** Newest first. */
  readonly lines: readonly HeardText[];
}

/** What a person said of the lines, and of the numbers in them. */
export interface SaidOfAll extends SaidOfLines {
  readonly sensors?: Sensors;
}

function readingOf(recognition: Recognition, line: HeardLine, said: SaidOfLines): LineReading {
  if (recognition.format !== null) return recognise(recognition, line.text, line.atMs, said).reading;
  const until = recognition.heard.filter(({ atMs }) => atMs < line.atMs);
  const heard = [...until, line];
  return meanwhile(heard, judged(heard, said.decimalComma), said);
}

/** The line as it would be read now, with what is known by now. */
export function explained(recognition: Recognition, text: string, atMs: number, said: SaidOfAll): Explained {
  const { roles: saidRoles, sensors = {} } = said;
  const reading = sensed(readingOf(recognition, { atMs, text }, said), sensors);
  const decimalComma = recognition.format?.decimalComma ?? said.decimalComma;
  const apart = takeApart(text, decimalComma);
  const why = reading.ok ? null : reading.reason;
  if (!apart.ok) return { values: [], why: why ?? whyNoTemperature(text) };
  const fit = recognition.format === null ? null : fitOf(recognition.format, apart.entries);
  const entries = fit === null ? apart.entries : labelled(apart.entries, fit);
  const whats = fit === null ? whatsAlone(entries) : fit.columns.map(({ what }) => what);
  const scales = fit?.columns.map(({ scale }) => scale) ?? null;
  const { keys, places } = keysOf(entries, whats, saidRoles, fit === null);
  const lasting = fit === null ? lastingKeys(entries, keys) : keys;
  const roles = roleByKey(reading.ok ? reading.places : places, saidRoles);
  const madeC = new Map(reading.ok ? reading.channels.map((channel) => [channel.key, channel.valueC]) : []);
  const celsiusOf = (entry: Entry, at: number): number | null => {
    const key = keys[at]!;
    const isTemperature = whats[at] === 'temperature';
    const isSensor = Object.hasOwn(sensors, key) || (!isTemperature && electricOf(entry) !== null);
    if (isSensor) return madeC.get(key) ?? null;
    return isTemperature || Object.hasOwn(saidRoles, key) ? valueC(entry, scales?.[at]) : null;
  };
  const valueOf = (entry: Entry, at: number): ExplainedValue => ({
    key: lasting[at]!,
    label: entry.label,
    value: entry.value,
    what: whats[at]!,
    valueC: celsiusOf(entry, at),
    role: roles.get(keys[at]!) ?? null,
  });
  return { values: entries.map(valueOf), why };
}
