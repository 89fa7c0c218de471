/** What logs put before each line: a time in brackets, a level, the name of who speaks. Cut off, so that what is said can be read. */

/** `[12:34:56.789] `, `[   12.345] `, `[I] `, `[INFO] `, `[D][probe:094]: `, `INFO: `, `I (12345) main: `, `#12,`. */
const PREFIXES: readonly RegExp[] = [
  /^\[\s*(?:\d{1,4}[-/.]\d\d?[-/.]\d\d?\d?\d?[ T])?\d\d?:\d\d(?::\d\d)?(?:[.,]\d{1,9})?Z?\]\s*:?\s*/,
  /^\[\s*\d{1,9}\.\d{2,6}\]\s*:?\s*/,
  /^\[(?:[DIV]|DEBUG|INFO|NOTICE|TRACE)\](?:\[[A-Za-z_][\w.]*(?::\d+)?\])?\s*:?\s*/i,
  /^(?:DEBUG|INFO|NOTICE|TRACE)(?:\s*[:|]\s*|\s+-\s+|\s+)(?=\S)/,
  /^[DIV] \(\d+\) [A-Za-z_][\w.-]*: /,
  /^\d\d?:\d\d:\d\d[.,]\d{3} -> /,
  /^[>#](?=\s?[+-]?\d)\s?/,
];

export function withoutPrefix(line: string): string {
  let rest = line;
  for (const prefix of PREFIXES) rest = rest.replace(prefix, '');
  return rest;
}
