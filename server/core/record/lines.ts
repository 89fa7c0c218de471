/** Text as lines, one at a time: a file of millions of them is never split at once. */

/** Lines without their ends, LF or CRLF, and without a byte-order mark; nothing after the last line feed is no line. */
export function* linesOf(source: string): Generator<string> {
  let at = source.startsWith('\uFEFF') ? 1 : 0;
  while (at < source.length) {
    const feed = source.indexOf('\n', at);
    const end = feed === -1 ? source.length : feed;
    yield source.slice(at, source[end - 1] === '\r' ? end - 1 : end);
    at = end + 1;
  }
}
