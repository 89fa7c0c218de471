/** Sentences that carry a checksum behind an asterisk, `$…*hh`: whether it is right, and what stands in them. */

/** The body, and two hexadecimal digits at the end of the line. */
const SENTENCE = /^(.*)\*([0-9A-Fa-f]{2})$/s;
/** What begins one; the checksum leaves it out. */
const BEGINNING = /^[$!]/;
/** `$GPRMC,`: who speaks and of what, before the first value. */
const NAME = /^[A-Za-z][A-Za-z0-9_]*,/;
/** Those who tell of places and times, and of no temperature (NMEA 0183: talkers for satellites). */
const SATELLITES = /^G[ABILNPQ][A-Z]{3},/;

export type Sentence =
  /** No sentence: the line stands for itself. */
  | { readonly kind: 'none' }
  /** The checksum is wrong, or of a kind we do not know. */
  | { readonly kind: 'wrong' }
  /** One that never holds a temperature. */
  | { readonly kind: 'of-places' }
  | { readonly kind: 'right'; readonly body: string };

/** `line`: without blanks at its ends, one character per byte. */
export function sentenceOf(line: string): Sentence {
  const [, marked, sent] = SENTENCE.exec(line) ?? [];
  if (marked === undefined || sent === undefined) return BEGINNING.test(line) ? unchecked(line) : { kind: 'none' };
  const body = marked.replace(BEGINNING, '');
  const due = Number.parseInt(sent, 16);
  if (!SUMS.some((sum) => sum(body) === due || sum(marked) === due)) return { kind: 'wrong' };
  return { kind: SATELLITES.test(body) ? 'of-places' : 'right', body: body.replace(NAME, '') };
}

/** A dollar sign alone promises nothing. */
function unchecked(line: string): Sentence {
  const body = line.replace(BEGINNING, '');
  return SATELLITES.test(body) ? { kind: 'of-places' } : { kind: 'right', body: body.replace(NAME, '') };
}

/** All bytes exclusive-or (NMEA 0183), their sum, and that sum made up to 256. */
const SUMS: readonly ((text: string) => number)[] = [
  (text) => over(text, (sum, byte) => sum ^ byte),
  (text) => over(text, (sum, byte) => (sum + byte) & 0xff),
  (text) => (0x100 - over(text, (sum, byte) => (sum + byte) & 0xff)) & 0xff,
];

function over(text: string, fold: (sum: number, byte: number) => number): number {
  let sum = 0;
  for (let at = 0; at < text.length; at += 1) sum = fold(sum, text.charCodeAt(at) & 0xff);
  return sum;
}
