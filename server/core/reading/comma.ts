/** What a comma means in a line: a decimal mark, a separator, or one cannot tell. Looks at the whole line, never at values. */

export type CommaMeaning = 'decimal' | 'separator' | 'ambiguous';

/** Digits, then one or more times a comma and digits with no blank between: the only place where a comma can be a decimal mark. */
export const GLUED = /\d+(?:,\d+)+/g;
/** Dots in dates and fractions of seconds are no decimal points of values. */
const DATE_OR_TIME = /\d\d?\.\d\d?\.\d{2,4}(?!\d)|\d\d?:\d\d:\d\d\.\d{1,9}|\d{4}\.\d\d\.\d\d/g;
/** More digits than this after a comma may as well be a second number, a counter or milliseconds. Ours. */
const MOST_DECIMALS = 3;

/**
 * `said` true: commas between digits are decimal marks, unless points are; false: commas separate; null: nobody has said.
 * Then one comma per number is a decimal mark, and an odd number of pieces a list.
 */
export function commaMeaning(text: string, said: boolean | null): CommaMeaning {
  if (said === false || !text.includes(',')) return 'separator';
  const line = text.replace(DATE_OR_TIME, '@');
  if (/\d\.\d/.test(line)) return 'separator';
  const glued = line.match(GLUED);
  if (glued === null) return 'separator';
  if (said === true) return 'decimal';
  const pieces = glued.map((run) => run.split(','));
  if (pieces.some((run) => run.length > 2))
    return pieces.some((run) => run.length % 2 === 0) ? 'ambiguous' : 'separator';
  return pieces.every((run) => run[1]!.length <= MOST_DECIMALS) ? 'decimal' : 'ambiguous';
}
