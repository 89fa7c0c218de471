/** A line of headings above columns, `time,temp,hum`: its cells, and the values of the lines below it with their names. */
import type { Entry } from './entry.ts';
import { scaleNamed } from './scale.ts';
import { spelled } from './spelling.ts';
import { isKnownLabel, isOtherLabel } from './words.ts';

/** Cells of headings are short (ours). */
const LONGEST_CELL = 40;

/** The cells, or null: a line of two or more names, one of which we know, and no number apart from those that belong to a name. */
export function headingsOf(text: string): readonly string[] | null {
  const line = spelled(text.trim().replace(/^#\s*/, ''))?.replace(/["']/g, '');
  if (line === undefined || /[:={}]/.test(line.replace(/\b[hmsHMS:]+\b/g, ''))) return null;
  const between = /[;\t|]/.exec(line)?.[0] ?? (line.includes(',') ? ',' : /\s+/);
  const cells = line
    .replace(/,$/, '')
    .split(between)
    .map((cell) => cell.trim());
  if (cells.length < 2 || cells.length > 64) return null;
  const isName = (cell: string) => cell.length <= LONGEST_CELL && (cell === '' || /^[\p{L}%°_]/u.test(cell));
  if (!cells.every(isName)) return null;
  return cells.some((cell) => isKnownLabel(nameOf(cell)) || isOtherLabel(nameOf(cell))) ? cells : null;
}

/** The values with their headings as labels, where there is one for each. */
export function named(entries: readonly Entry[], headings: readonly string[] | null): readonly Entry[] {
  if (headings === null || headings.length !== entries.length) return entries;
  return entries.map((entry, at) => {
    if (entry.label !== '' || headings[at] === '') return entry;
    return { ...entry, label: nameOf(headings[at]!), marked: true, scale: entry.scale ?? scaleOf(headings[at]!) };
  });
}

/** `Temp (°F)`, `T1 [C]`: the unit apart from the name. */
const WITH_UNIT = /^(.*?)\s*[([]\s*([^()[\]]*?)\s*[)\]]$/;

/** A unit of another quantity stays in the name, where it tells. */
function nameOf(cell: string): string {
  const [, name, unit] = WITH_UNIT.exec(cell) ?? [];
  if (name === undefined || unit === undefined || name === '') return cell;
  return scaleNamed(unit.toLowerCase()) === null ? `${name} ${unit}` : name;
}

function scaleOf(cell: string) {
  const unit = WITH_UNIT.exec(cell)?.[2];
  return unit === undefined ? null : scaleNamed(unit.toLowerCase());
}
