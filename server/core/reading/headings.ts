/** A line of headings above columns, `time,temp,hum`: its cells, and the values of the lines below it with their names. */
import type { Between } from '../record/format.ts';
import type { Entry } from './entry.ts';
import { scaleNamed } from './scale.ts';
import { spelled } from './spelling.ts';
import { hasFaultWord, isClearLabel, isKnownLabel, isOtherLabel } from './words.ts';

/** Cells of headings are short (ours). */
const LONGEST_CELL = 40;
const MOST_CELLS = 64;

/** A line of headings: what stands between its cells has to stand between the values too. */
export interface Headings {
  readonly cells: readonly string[];
  readonly between: Between;
}

/**
 * null: it is none. Two or more names, one of which we know, and no number but in a name. Between blanks, where sentences have their words,
 * we must know all of them; a line that tells of a fault is none.
 */
export function headingsOf(text: string): Headings | null {
  const line = spelled(text.trim().replace(/^#\s*/, ''))?.replace(/["']/g, '');
  if (line === undefined || /[:={}]/.test(line.replace(/\b[hmsHMS:]+\b/g, '')) || hasFaultWord(line)) return null;
  const between = betweenOf(line);
  const cells = line
    .replace(/[,;|]$/, '')
    .split(SEPARATORS[between])
    .map((cell) => cell.trim());
  if (cells.length < 2 || cells.length > MOST_CELLS) return null;
  if (!cells.every((cell) => cell.length <= LONGEST_CELL && (cell === '' || /^[\p{L}%°_]/u.test(cell)))) return null;
  const names = cells.map(nameOf);
  const isKnown = between === 'blank' ? isNoSentence(names) : names.some(isName);
  return isKnown ? { cells, between } : null;
}

/** Two names may stand side by side in a sentence, and more of them with words between. */
function isNoSentence(names: readonly string[]): boolean {
  const known = names.filter(isName).length;
  if (names.length === 2) return known === 2 && names.some(isClearLabel);
  return known >= names.length - 1 && names.some(isKnownLabel);
}

function isName(name: string): boolean {
  return isKnownLabel(name) || isOtherLabel(name);
}

const SEPARATORS = { semicolon: ';', tab: '\t', bar: '|', comma: ',', blank: /\s+/ } as const;

function betweenOf(line: string): keyof typeof SEPARATORS {
  if (line.includes(';')) return 'semicolon';
  if (line.includes('\t')) return 'tab';
  if (line.includes('|')) return 'bar';
  return line.includes(',') ? 'comma' : 'blank';
}

/** The values with their headings as labels, where there is one for each. */
export function named(entries: readonly Entry[], between: Between, headings: Headings | null): readonly Entry[] {
  if (headings === null || headings.cells.length !== entries.length || headings.between !== between) return entries;
  return entries.map((entry, at) => {
    const cell = headings.cells[at]!;
    if (entry.label !== '' || cell === '') return entry;
    return { ...entry, label: nameOf(cell), marked: true, scale: entry.scale ?? scaleOf(cell) };
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
