/** The bytes of a line as text: UTF-8 where it is, and every way to write a degree sign made one. Knows no meaning. */

const ABOVE_7_BITS = /[\u0080-\uffff]/;

/**
 * In this order: a letter or sign in UTF-8, a degree sign in one byte (Latin-1, and where a scale follows in two older character
 * sets), a blank that does not break, anything else.
 */
const HIGH =
  /([\u00c2-\u00df][\u0080-\u00bf]|[\u00e0-\u00ef][\u0080-\u00bf]{2})|([\u00b0\u00ba]|[\u00df\u00f8](?=[CFK](?![A-Za-z])))|(\u00a0)|[\u0080-\uffff]/g;

/** What is typed for want of a degree sign: `31.4*C`, `31.4 'C`, `31.4 oC`. */
const TYPED_DEGREE = /(\d ?)[*'^o?`](?=[CF](?![A-Za-z0-9]))/g;

/** Signs that stand for one of ours: look-alikes of the degree sign, the one-character °C and °F, blanks, minus signs, a wide colon. */
const SIGNS: Readonly<Record<string, string>> = {
  '\u00ba': '°',
  '\u02da': '°',
  '\u2103': '°C',
  '\u2109': '°F',
  '\ufffd': '°',
  '\u00a0': ' ',
  '\u2009': ' ',
  '\u202f': ' ',
  '\u2212': '-',
  '\u2013': '-',
  '\uff1a': ':',
};

/** One character per byte in; letters as letters and U+00B0 for each degree sign out. null where a byte belongs to no text. */
export function spelled(line: string): string | null {
  const typed = line.replace(TYPED_DEGREE, '$1°');
  if (!ABOVE_7_BITS.test(typed)) return typed;
  let isText = true;
  const text = typed.replace(HIGH, (bytes, letter?: string, degree?: string, blank?: string) => {
    if (degree !== undefined) return '°';
    if (blank !== undefined) return ' ';
    if (letter === undefined) isText &&= bytes === '°';
    else return fromUtf8(letter);
    return bytes;
  });
  return isText ? text : null;
}

function fromUtf8(bytes: string): string {
  const [first, second] = [bytes.charCodeAt(0), bytes.charCodeAt(1)];
  const code =
    bytes.length === 2
      ? ((first & 0x1f) << 6) | (second & 0x3f)
      : ((first & 0x0f) << 12) | ((second & 0x3f) << 6) | (bytes.charCodeAt(2) & 0x3f);
  const sign = String.fromCharCode(code);
  return SIGNS[sign] ?? sign;
}
