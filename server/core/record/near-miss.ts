/** Which known word somebody probably meant: for complaints about unknown names. Knows no vocabulary of its own. */

/** More typing slips than this and it is another word. Ours. */
const MAX_SLIPS = 2;

/** The known word nearest to `word`, or null where none is within two slips (or a third of its length, for short words). Case does not count. */
export function nearMiss(word: string, known: readonly string[]): string | null {
  let best: string | null = null;
  let fewest = Math.min(MAX_SLIPS, Math.floor(word.length / 3)) + 1;
  for (const candidate of known) {
    if (Math.abs(candidate.length - word.length) >= fewest) continue;
    const slips = slipsBetween(word.toLowerCase(), candidate.toLowerCase());
    if (slips < fewest) [best, fewest] = [candidate, slips];
  }
  return best;
}

/** Letters to add, drop, change or swap with their neighbour to turn one word into the other. */
function slipsBetween(from: string, to: string): number {
  let beforeLast: number[] = [];
  let last = Array.from({ length: to.length + 1 }, (_, column) => column);
  for (let row = 1; row <= from.length; row += 1) {
    const current = [row];
    for (let column = 1; column <= to.length; column += 1) {
      const same = from[row - 1] === to[column - 1];
      const swapped = row > 1 && column > 1 && from[row - 1] === to[column - 2] && from[row - 2] === to[column - 1];
      current[column] = Math.min(
        last[column]! + 1,
        current[column - 1]! + 1,
        last[column - 1]! + (same ? 0 : 1),
        swapped ? beforeLast[column - 2]! + 1 : Infinity,
      );
    }
    [beforeLast, last] = [last, current];
  }
  return last[to.length]!;
}
