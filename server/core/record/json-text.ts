/**
 * Where a JSON text is broken, by line and column: the platform's own parser does not say on every version.
 * Also finds a name given twice in one object, which that parser accepts silently. Knows nothing of profiles.
 */

export interface JsonFault {
  /** From 1. */
  readonly line: number;
  /** From 1, in characters. */
  readonly column: number;
  readonly rule: string;
}

/** Deeper than any file of ours; keeps a hostile text from exhausting the stack. Ours. */
const MAX_DEPTH = 64;

const BLANK = /[ \t\n\r]*/y;
/** Anything from the blank on but quote and backslash, or an escape. */
const STRING = /"(?:[ !#-[\]-\uffff]|\\(?:["\\/bfnrt]|u[0-9a-fA-F]{4}))*"/y;
const NUMBER = /-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?/y;
const WORD = /true|false|null/y;

/** The first fault, or null where the text is JSON with no name twice in an object. */
export function jsonFault(text: string): JsonFault | null {
  const scan: Scan = { text, at: 0, rule: null };
  if (value(scan, 0) && scan.at < text.length) fail(scan, 'nothing may follow the value');
  return scan.rule === null ? null : { ...lineAndColumn(text, scan.at), rule: scan.rule };
}

interface Scan {
  readonly text: string;
  at: number;
  rule: string | null;
}

function fail(scan: Scan, rule: string): false {
  scan.rule = rule;
  return false;
}

/** Moves past the pattern if it stands here. */
function take(scan: Scan, pattern: RegExp): string | null {
  pattern.lastIndex = scan.at;
  const found = pattern.exec(scan.text);
  if (found === null) return null;
  scan.at += found[0].length;
  return found[0];
}

function takeMark(scan: Scan, mark: string): boolean {
  take(scan, BLANK);
  if (scan.text[scan.at] !== mark) return false;
  scan.at += 1;
  return true;
}

function value(scan: Scan, depth: number): boolean {
  if (depth > MAX_DEPTH) return fail(scan, `nested deeper than ${MAX_DEPTH}`);
  if (takeMark(scan, '{')) return members(scan, depth);
  if (takeMark(scan, '[')) return elements(scan, depth);
  const plain = take(scan, STRING) ?? take(scan, NUMBER) ?? take(scan, WORD);
  if (plain === null) return fail(scan, scan.text[scan.at] === '"' ? UNCLOSED : 'a value is expected here');
  take(scan, BLANK);
  return true;
}

const UNCLOSED = 'this text is not closed, or not escaped properly';

function members(scan: Scan, depth: number): boolean {
  const seen = new Set<string>();
  if (takeMark(scan, '}')) return ended(scan);
  do {
    take(scan, BLANK);
    const start = scan.at;
    const name = take(scan, STRING);
    if (name === null)
      return fail(scan, scan.text[start] === '"' ? UNCLOSED : 'a name in double quotes is expected here');
    const plain: unknown = JSON.parse(name);
    if (seen.has(String(plain))) {
      scan.at = start;
      return fail(scan, `${name} stands twice in the same object`);
    }
    seen.add(String(plain));
    if (!takeMark(scan, ':')) return fail(scan, 'a colon is expected here');
    if (!value(scan, depth + 1)) return false;
  } while (takeMark(scan, ','));
  return takeMark(scan, '}') ? ended(scan) : fail(scan, 'a comma or a closing } is expected here');
}

function elements(scan: Scan, depth: number): boolean {
  if (takeMark(scan, ']')) return ended(scan);
  do {
    if (!value(scan, depth + 1)) return false;
  } while (takeMark(scan, ','));
  return takeMark(scan, ']') ? ended(scan) : fail(scan, 'a comma or a closing ] is expected here');
}

function ended(scan: Scan): true {
  take(scan, BLANK);
  return true;
}

function lineAndColumn(text: string, at: number): { line: number; column: number } {
  const before = text.slice(0, at).split('\n');
  return { line: before.length, column: (before.at(-1)?.length ?? 0) + 1 };
}
