/**
 * Whether lines come torn: a second program that reads the same port takes bytes out of their midst. Known by the form that lines of
 * this thermometer usually have. Knows forms only: not what a line says.
 */

/** So many lines are remembered (ours). */
const REMEMBERED = 31;
/** One form is usual once so many lines had it, and four in five of those remembered (ours): many thermometers have more than one. */
const USUAL_FROM = 12;
const USUAL_SHARE = 0.8;
/** A form met more often than this among them is one the thermometer has, too (ours). */
const RARE_MOST = 2;
/** Of so many last lines, so many of rare forms, of so many kinds, … (ours) */
const LAST = 16;
const TORN_FROM = 4;
const KINDS_FROM = 2;
/** … and in so many places among whole ones: a banner comes in one piece (ours). */
const PLACES_FROM = 3;

export class Torn {
  readonly #forms: string[] = [];
  #hadUsual = false;

  /** True while lines come torn. */
  line(text: string): boolean {
    this.#forms.push(formOf(text));
    if (this.#forms.length > REMEMBERED) this.#forms.shift();
    const counts = countsOf(this.#forms);
    const most = Math.max(...counts.values());
    if (most >= USUAL_FROM && most >= USUAL_SHARE * this.#forms.length) this.#hadUsual = true;
    if (!this.#hadUsual) return false;
    const last = this.#forms.slice(-LAST);
    const isRare = last.map((form) => counts.get(form)! <= RARE_MOST);
    const rare = last.filter((_, at) => isRare[at]);
    const places = isRare.filter((rareHere, at) => rareHere && isRare[at - 1] !== true).length;
    return rare.length >= TORN_FROM && new Set(rare).size >= KINDS_FROM && places >= PLACES_FROM;
  }

  /** What comes next may be another device's. */
  forget(): void {
    this.#forms.length = 0;
    this.#hadUsual = false;
  }
}

/** The figures of a line may change, with their signs and their places before the point; nothing else of it. */
function formOf(text: string): string {
  return text
    .replace(/[-+]?\d+(?=[.,]\d)/g, '0')
    .replace(/[-+]?\d/g, '0')
    .replace(/ +/g, ' ');
}

function countsOf(forms: readonly string[]): Map<string, number> {
  const counts = new Map<string, number>();
  for (const form of forms) counts.set(form, (counts.get(form) ?? 0) + 1);
  return counts;
}
