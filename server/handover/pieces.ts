/** Lines on their way out, gathered into pieces worth sending: a long run has a million of them. */

/** Characters of a piece (ours: some network packets at a time). */
const PIECE_CHARS = 65_536;

export function* inPieces(lines: Iterable<string>): Generator<string> {
  let gathered: string[] = [];
  let chars = 0;
  for (const line of lines) {
    gathered.push(line);
    chars += line.length;
    if (chars < PIECE_CHARS) continue;
    yield gathered.join('');
    gathered = [];
    chars = 0;
  }
  if (gathered.length > 0) yield gathered.join('');
}
