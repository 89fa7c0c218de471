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
  /** null: not known yet. */
  #usual: string | null = null;
  /** Forms met by the time that the usual one was known: its own, whatever they are. */
  #own: ReadonlySet<string> = new Set();

  /** True while lines come torn. */
  line(text: string): boolean {
    this.#forms.push(formOf(text));
    if (this.#forms.length > REMEMBERED) this.#forms.shift();
    const counts = countsOf(this.#forms);
    this.#learn(counts);
    const usual = this.#usual;
    if (usual === null) return false;
    const last = this.#forms.slice(-LAST);
    const pieces = last.filter((form) => !this.#own.has(form) && isPiece(form, usual));
    if (pieces.length >= TORN_FROM) return true;
    const isRare = last.map((form) => counts.get(form)! <= RARE_MOST);
    const rare = last.filter((_, at) => isRare[at]);
    const places = isRare.filter((rareHere, at) => rareHere && isRare[at - 1] !== true).length;
    return rare.length >= TORN_FROM && new Set(rare).size >= KINDS_FROM && places >= PLACES_FROM;
  }

  /** What comes next may be another device's. */
  forget(): void {
    this.#forms.length = 0;
    this.#usual = null;
  }

  #learn(counts: ReadonlyMap<string, number>): void {
    const [form, times] = [...counts].reduce((most, each) => (each[1] > most[1] ? each : most));
    if (times < USUAL_FROM || times < USUAL_SHARE * this.#forms.length || form === this.#usual) return;
    // What is left of each line does not become usual, however long that goes on.
    if (this.#usual !== null && isPiece(form, this.#usual)) return;
    this.#usual = form;
    this.#own = new Set(counts.keys());
  }
}

/**
 * Only the start or the end of the usual form, cut where no device would begin or end a line: within a number at its mark, or within a word or a
 * number where a word is gone with it. Where figures alone are missing it may as well write fewer of them.
 */
function isPiece(form: string, usual: string): boolean {
  const [isStart, isEnd] = [usual.startsWith(form), usual.endsWith(form)];
  if (form === '' || form === usual || (!isStart && !isEnd)) return false;
  const cutAt = isStart ? form.length : usual.length - form.length;
  const gone = isStart ? usual.slice(cutAt) : usual.slice(0, cutAt);
  const isWithin = IN_ONE.test(usual[cutAt - 1]!) && IN_ONE.test(usual[cutAt]!);
  return isWithin && (AT_MARK.test(form) || /[a-z]/i.test(gone));
}

/** Characters that stand together in a word or a number. */
const IN_ONE = /[a-z0-9.,]/i;
/** A number lacks what was before its mark, or behind it. */
const AT_MARK = /^[.,]\d|\d[.,]$/;

/** The figures of a line may change, with their signs and their places before the point; nothing else of it. */
function formOf(text: string): string {
  return text
    .replace(/[-+]?\d+(?=[.,](?:\d|$))/g, '0')
    .replace(/[-+]?\d/g, '0')
    .replace(/ +/g, ' ');
}

function countsOf(forms: readonly string[]): Map<string, number> {
  const counts = new Map<string, number>();
  for (const form of forms) counts.set(form, (counts.get(form) ?? 0) + 1);
  return counts;
}
