/** The commonest line there is, a decimal number and nothing else, read without a regular expression: the fast way through. */

/** Up to here whole numbers and powers of ten are exact, so that one division rounds as the platform's own parser does. */
const MOST_DIGITS = 15;
const POWERS_OF_TEN = Array.from({ length: MOST_DIGITS + 1 }, (_, power) => 10 ** power);

const BLANK = 0x20;
const PLUS = 0x2b;
const MINUS = 0x2d;
const POINT = 0x2e;
const ZERO = 0x30;

/** The value of `31.4`, `-5` or ` +31.40 `; null for anything else, be it a number in another dress. */
export function bareNumber(text: string): number | null {
  let at = 0;
  let end = text.length;
  while (at < end && text.charCodeAt(at) === BLANK) at += 1;
  while (end > at && text.charCodeAt(end - 1) === BLANK) end -= 1;
  const sign = text.charCodeAt(at);
  if (sign === MINUS || sign === PLUS) at += 1;
  if (end - at > MOST_DIGITS + 1) return null;
  let digits = 0;
  let whole = 0;
  let decimals = -1;
  for (; at < end; at += 1) {
    const code = text.charCodeAt(at);
    if (code === POINT && decimals < 0 && digits > 0) decimals = 0;
    else if (code >= ZERO && code <= ZERO + 9) {
      whole = whole * 10 + (code - ZERO);
      digits += 1;
      if (decimals >= 0) decimals += 1;
    } else return null;
  }
  if (digits === 0 || digits > MOST_DIGITS || decimals === 0) return null;
  const size = decimals > 0 ? whole / POWERS_OF_TEN[decimals]! : whole;
  return sign === MINUS ? 0 - size : size;
}
