/**
 * What one viewer's browser keeps between visits: small things, by name. A browser that keeps nothing is no fault: then each visit
 * begins as the first. Whoever reads checks what was kept; an older page may have kept something else.
 */
const PREFIX = 'bowlside.';

/** What is kept under this name where it fits, else `otherwise`. */
export function kept<Value>(name: string, is: (value: unknown) => value is Value, otherwise: Value): Value {
  try {
    const text = localStorage.getItem(PREFIX + name);
    if (text === null) return otherwise;
    const value: unknown = JSON.parse(text);
    return is(value) ? value : otherwise;
  } catch {
    return otherwise;
  }
}

/** null: nothing is kept any more. */
export function keep(name: string, value: unknown): void {
  try {
    if (value === null) localStorage.removeItem(PREFIX + name);
    else localStorage.setItem(PREFIX + name, JSON.stringify(value));
  } catch {
    // Full, or forbidden: it lasts as long as the page.
  }
}
