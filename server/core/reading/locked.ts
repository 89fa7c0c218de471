/** A line read by the format that is locked: its temperatures under their keys, and how each of their numbers is written. */
import type { Role } from '../record/command.ts';
import type { Format } from '../record/format.ts';
import { FIRST_LEFT } from '../record/run.ts';
import { type LineReading, refused, whyNoTemperature } from './channel.ts';
import { type Entry, placedReadingBy } from './entry.ts';
import type { Written } from './figures.ts';
import { type Fit, fitOf, labelled, writtenIn } from './fit.ts';
import type { HeardLine } from './heard.ts';
import { apartOf } from './lock.ts';

type Roles = Readonly<Record<string, Role>>;

export interface ReadByFormat {
  readonly reading: LineReading;
  /** One for each channel of the reading; null: nobody can tell. Empty where nothing was read. */
  readonly written: readonly (Written | null)[];
}

/** null: the line does not fit. `roles`: as a person said them. */
export function readLocked(format: Format, line: HeardLine, roles: Roles): ReadByFormat | null {
  const apart = apartOf(line, format.decimalComma);
  if (!apart.ok) return notRead(refused(apart.reason));
  const fit = fitOf(format, apart.entries);
  return fit === null ? null : readBy(fit, apart.entries, format, roles, line.text);
}

export function readBy(fit: Fit, entries: readonly Entry[], format: Format, roles: Roles, text: string): ReadByFormat {
  const whats = fit.columns.map(({ what }) => what);
  const scales = fit.columns.map(({ scale }) => scale);
  const read = placedReadingBy(labelled(entries, fit), whats, scales, roles);
  if (read === null) return notRead(refused(whyNoTemperature(text)));
  const { reading, ats } = read;
  const isSaid = isElsewhere(roles) || reading.places.some((key) => Object.hasOwn(roles, key));
  if (format.asks && !isSaid) return notRead(refused('ambiguous'));
  const places = format.kinds.length === 1 ? reading.places : placesOf(format, reading.places);
  return { reading: { ...reading, places }, written: ats.map((at) => writtenIn(fit, entries[at]!, at)) };
}

function notRead(reading: LineReading): ReadByFormat {
  return { reading, written: [] };
}

/** Whichever value it is, somebody has said that it is not the chocolate. */
function isElsewhere(roles: Roles): boolean {
  return (roles[FIRST_LEFT] ?? 'chocolate') !== 'chocolate';
}

/** Those of all kinds of lines: a second probe on a line of its own does not stand in for the first. */
function placesOf({ kinds }: Format, places: readonly string[]): readonly string[] {
  const labels = kinds.flatMap(({ columns }) =>
    columns.flatMap(({ label, what }) => (label !== '' && what === 'temperature' ? [label] : [])),
  );
  return [...new Set([...labels, ...places])];
}
