/** Text of SVG and HTML: elements from names, attributes and contents, with everything that people wrote made harmless. */

/** Attributes by name; a number is written to a tenth. */
export type Attributes = Readonly<Record<string, string | number>>;

/** Marks of the language as what they look like, and what XML cannot hold as a question mark. */
export function escaped(text: string): string {
  return (
    text
      .replaceAll('&', '&amp;')
      .replaceAll('<', '&lt;')
      .replaceAll('>', '&gt;')
      .replaceAll('"', '&quot;')
      .replaceAll("'", '&#39;')
      // oxlint-disable-next-line no-control-regex -- control characters are what is looked for
      .replaceAll(/[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f-\u009f\ufffe\uffff]|\p{Surrogate}/gu, '?')
  );
}

/** `contents` are elements already, not text. */
export function element(name: string, attributes: Attributes = {}, ...contents: readonly string[]): string {
  const written = Object.entries(attributes).map(([key, value]) => ` ${key}="${escaped(attributeText(value))}"`);
  const inside = contents.join('');
  return inside === '' ? `<${name}${written.join('')}/>` : `<${name}${written.join('')}>${inside}</${name}>`;
}

function attributeText(value: string | number): string {
  return typeof value === 'string' ? value : tenth(value);
}

export function tenth(value: number): string {
  return String(Math.round(value * 10) / 10 + 0);
}

/** A path through points, from the first to the last. */
export function pathThrough(points: readonly (readonly [x: number, y: number])[]): string {
  return points.map(([x, y], at) => `${at === 0 ? 'M' : 'L'}${tenth(x)} ${tenth(y)}`).join('');
}
