/** How stored contents show that they are not what was written: decoding them throws. Knows neither files nor tables. */

/** True for what decoding columns (RangeError) or JSON (SyntaxError) throws. */
export function isUndecodable(error: unknown): boolean {
  return error instanceof RangeError || error instanceof SyntaxError;
}

/** What `read` gives, or null where the contents cannot be decoded. Any other failure goes on its way. */
export function undamaged<T>(read: () => T): T | null {
  try {
    return read();
  } catch (error) {
    if (isUndecodable(error)) return null;
    throw error;
  }
}

/** What `read` gives, or null where it cannot be read, whatever the reason: for what a bowl must not wait for. */
export function ifRead<T>(read: () => T): T | null {
  try {
    return read();
  } catch {
    return null;
  }
}
