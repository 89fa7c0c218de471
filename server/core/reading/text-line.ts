/**
 * A line of text to its values with their labels and units: `T: 31.4`, `31.4 C; 45.2 C`, `chocolate 31.4 bath 44.0`. Reads how
 * tokens combine; which of the values are temperatures is judged in entry.ts.
 */
import type { Between } from '../record/format.ts';
import { type Apart, MOST_VALUES, notApart, whyNoTemperature } from './channel.ts';
import { electricNamed } from './electric.ts';
import { decimalsOf, emptyEntry, type Entry, isStrayText, saidOf, timeEntry } from './entry.ts';
import { figuresOf } from './figures.ts';
import { type Scale, scaleNamed } from './scale.ts';
import { type Token, tokensOf } from './tokens.ts';
import { isFaultWord, isNumberedThing, isOtherUnit } from './words.ts';

/** A label of more words is a sentence. Ours. */
const MOST_LABEL_WORDS = 4;
/** Behind the last value they say that all is well. */
const ASSURANCES: ReadonlySet<string> = new Set(['ok', 'stable', 'good', 'valid']);
/** `Temperature is 31.4`: as a colon. */
const COPULAS: ReadonlySet<string> = new Set(['is', 'ist', 'est']);
/** Channels are numbered with at most so many digits. Ours. */
const CHANNEL_NUMBER = /^\d{1,2}$/;

/** `line`: as `spelled` gives it, without blanks at its ends. */
export function takeTextApart(line: string, decimalComma: boolean | null): Apart {
  const cut = tokensOf(line, decimalComma);
  if (!cut.ok && cut.why === 'ambiguous') return notApart('ambiguous');
  const entries = cut.ok ? entriesOf(cut.tokens) : null;
  if (!cut.ok || entries === null) return notApart(whyNoTemperature(line));
  const between = entries.length > 1 ? betweenOf(line, cut.tokens) : 'nothing';
  if (entries.some(isStrayText) && !isTable(entries, between)) return notApart(whyNoTemperature(line));
  return { ok: true, entries, between };
}

/** Cells, one of which is said to be a temperature: what we don't know beside it is no sentence. */
function isTable(entries: readonly Entry[], between: Between): boolean {
  return (
    between !== 'nothing' && between !== 'blank' && entries.some((entry) => saidOf(entry, entries) === 'temperature')
  );
}

/** What stands between the values: the first separator there is. */
function betweenOf(line: string, tokens: readonly Token[]): Between {
  if (!tokens.some(({ kind }) => kind === 'separator')) return 'blank';
  const sign = /[;\t|/]/.exec(line)?.[0] ?? ',';
  return sign === ';' ? 'semicolon' : sign === '\t' ? 'tab' : sign === '|' || sign === '/' ? 'bar' : 'comma';
}

/** What has been read of the line so far. */
interface Progress {
  readonly entries: Entry[];
  /** Words waiting for their value. */
  label: string[];
  marked: boolean;
  /** The current cell has given a value. */
  filled: boolean;
  /** A unit may follow: the token before was a number, or a degree sign after one. */
  unitFits: boolean;
}

/** The line's values, or null where it doesn't read as values at all, or as too many: no more of it is looked at then. */
function entriesOf(tokens: readonly Token[]): Entry[] | null {
  const progress: Progress = { entries: [], label: [], marked: false, filled: false, unitFits: false };
  for (const [index, token] of tokens.entries()) {
    const understood = take(progress, token, tokens[index - 1], tokens[index + 1]);
    if (!understood || progress.entries.length > MOST_VALUES) return null;
  }
  if (progress.label.length > 0 && !progress.marked) return null;
  if (progress.label.length > 0) addEmpty(progress);
  return progress.entries;
}

function take(progress: Progress, token: Token, before: Token | undefined, after: Token | undefined): boolean {
  switch (token.kind) {
    case 'number':
      return takeNumber(progress, token, before, after);
    case 'word':
      return takeWord(progress, token, before, after);
    case 'separator':
      return takeSeparator(progress, token, before);
    case 'mark':
      return takeMark(progress);
    case 'dash':
      return progress.label.length > 0 && !progress.marked ? takeMark(progress) : addEmpty(progress);
    case 'no-value':
      return addEmpty(progress);
    case 'time':
      return addPlace(progress, timeEntry(progress.label.join(' ')));
  }
}

function takeNumber(progress: Progress, token: Token & { kind: 'number' }, before?: Token, after?: Token): boolean {
  if (token.glued && before?.kind === 'number') return false;
  if (token.glued && before?.kind === 'word' && !/^(?:t|temp)$/i.test(before.text)) return false;
  if (isPartOfLabel(progress, token, after)) return addLabelWord(progress, token.text);
  const { label, scale } = labelAndScale(progress.label);
  const whole = !/[.,]/.test(token.text);
  const decimals = decimalsOf(token.text);
  const { marked } = progress;
  const figures = figuresOf(token.text);
  progress.entries.push({ ...emptyEntry(label), marked, value: token.value, whole, decimals, figures, scale });
  closeValue(progress);
  progress.unitFits = true;
  return true;
}

function isPartOfLabel({ label, marked }: Progress, { text }: Token & { kind: 'number' }, after?: Token): boolean {
  if (!CHANNEL_NUMBER.test(text)) return false;
  if (after?.kind === 'mark') return true;
  return !marked && isNumberedThing(label.at(-1)?.toLowerCase() ?? '') && after?.kind === 'number';
}

/** `Temp (F)`: a unit at the end of a label is not part of it. */
function labelAndScale(words: readonly string[]): { label: string; scale: Scale | null } {
  const scale = words.length > 1 ? scaleNamed(words.at(-1)!.toLowerCase()) : null;
  return { label: (scale === null ? words : words.slice(0, -1)).join(' '), scale };
}

function takeWord(progress: Progress, token: Token & { kind: 'word' }, before?: Token, after?: Token): boolean {
  const word = token.text.toLowerCase();
  if (token.glued && before?.kind === 'number' && scaleNamed(word) === null && !isOtherUnit(word)) return false;
  if (unitMayStand(progress, token, before, after) && takeUnit(progress, word)) return true;
  if (isFaultWord(word) && after?.kind !== 'mark') return takeFault(progress, before, after);
  if (ASSURANCES.has(word) && after === undefined && progress.label.length === 0 && progress.filled) return true;
  if (COPULAS.has(word) && progress.label.length > 0 && after?.kind !== 'mark') return takeMark(progress);
  if (progress.marked && after?.kind !== 'mark') return false;
  return addLabelWord(progress, token.text);
}

/** After its number, or in a cell of its own behind it; a single letter before a number rather begins the next value. */
function unitMayStand(progress: Progress, token: Token & { kind: 'word' }, before?: Token, after?: Token): boolean {
  if (after?.kind === 'mark') return false;
  if (before?.kind === 'separator')
    return progress.entries.length > 0 && progress.label.length === 0 && isCellEnd(after);
  const word = token.text.toLowerCase();
  if (word.length === 1 && scaleNamed(word) === null && !token.glued && after?.kind === 'number') return false;
  return progress.unitFits;
}

function takeUnit(progress: Progress, word: string): boolean {
  const last = progress.entries.at(-1);
  const scale = scaleNamed(word);
  if (last === undefined || (scale === null && !isOtherUnit(word))) return false;
  const other = scale === null;
  const electric = other ? electricNamed(word) : null;
  progress.entries[progress.entries.length - 1] = { ...last, scale: scale ?? last.scale, other, electric };
  progress.unitFits = word.startsWith('°') || word.startsWith('deg');
  progress.filled = true;
  return true;
}

/** In the place of a value it stands for that value; elsewhere the whole line tells of a fault. */
function takeFault(progress: Progress, before?: Token, after?: Token): boolean {
  const ownCell = isCellEnd(before) && isCellEnd(after);
  return (before?.kind === 'mark' || ownCell) && after?.kind !== 'number' && addEmpty(progress);
}

function isCellEnd(token: Token | undefined): boolean {
  return token === undefined || token.kind === 'separator';
}

/** Behind a bare label it makes that a cell of its own; behind a colon only a tab may stand before the value. */
function takeSeparator(progress: Progress, token: Token & { kind: 'separator' }, before?: Token): boolean {
  progress.unitFits = false;
  const waits = progress.label.length > 0;
  if (waits && !progress.marked) progress.marked = true;
  else if (waits && before?.kind === 'mark' && token.tab) return true;
  else {
    if (waits || !progress.filled) addEmpty(progress);
    progress.filled = false;
  }
  return true;
}

function takeMark(progress: Progress): boolean {
  if (progress.marked || progress.label.length === 0) return false;
  progress.marked = true;
  progress.unitFits = false;
  return true;
}

function addLabelWord(progress: Progress, word: string): boolean {
  progress.label.push(word);
  progress.marked = false;
  progress.unitFits = false;
  return progress.label.length <= MOST_LABEL_WORDS;
}

function addEmpty(progress: Progress): true {
  return addPlace(progress, emptyEntry(progress.label.join(' ')));
}

function addPlace(progress: Progress, entry: Entry): true {
  progress.entries.push(entry);
  closeValue(progress);
  return true;
}

function closeValue(progress: Progress): void {
  progress.label = [];
  progress.marked = false;
  progress.filled = true;
  progress.unitFits = false;
}
