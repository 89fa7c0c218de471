/**
 * What one viewer's browser keeps between visits: small things, by name. A browser that keeps nothing is no fault: then each visit
 * begins as the first. Whoever reads checks what was kept; an older page may have kept something else.
 */
const PREFIX = 'bowlside.';
/** A browser may forbid even to ask for it. */
type Shelf = () => Storage;
const LASTING: Shelf = () => localStorage;

/** What is kept under this name where it fits, else `otherwise`. `shelf`: another one that ends with the window. */
export function kept<Value>(
  name: string,
  is: (value: unknown) => value is Value,
  otherwise: Value,
  shelf = LASTING,
): Value {
  try {
    const text = shelf().getItem(PREFIX + name);
    if (text === null) return otherwise;
    const value: unknown = JSON.parse(text);
    return is(value) ? value : otherwise;
  } catch {
    return otherwise;
  }
}

/** null: nothing is kept any more. */
export function keep(name: string, value: unknown, shelf = LASTING): void {
  try {
    if (value === null) shelf().removeItem(PREFIX + name);
    else shelf().setItem(PREFIX + name, JSON.stringify(value));
  } catch {
    // Full, or forbidden: it lasts as long as the page.
  }
}
