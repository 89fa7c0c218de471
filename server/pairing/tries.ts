/** How often a thing was tried from an address, within bounded memory: locks out who guesses, and holds back who floods. */

export interface Allowance {
  /** At once, where nothing came for long. */
  readonly most: number;
  /** One more is let through after so long, ms. */
  readonly everyMs: number;
}

/** Addresses told apart (ours: more than any kitchen; the one heard of longest ago makes room). */
const ADDRESSES = 1_000;

export class Tries {
  readonly #allowance: Allowance;
  readonly #nowMs: () => number;
  /** Of each address, when it would have its full allowance again. */
  readonly #fullAtMs = new Map<string, number>();

  /** `nowMs`: of a clock that never goes back. */
  constructor(allowance: Allowance, nowMs: () => number) {
    this.#allowance = allowance;
    this.#nowMs = nowMs;
  }

  /** Whether one more is let through now. */
  isFree(address: string): boolean {
    const { most, everyMs } = this.#allowance;
    return this.#waitOf(address) + everyMs <= most * everyMs;
  }

  count(address: string): void {
    const fullAtMs = this.#nowMs() + this.#waitOf(address) + this.#allowance.everyMs;
    const key = networkOf(address);
    this.#fullAtMs.delete(key);
    this.#fullAtMs.set(key, fullAtMs);
    if (this.#fullAtMs.size > ADDRESSES) this.#fullAtMs.delete(this.#fullAtMs.keys().next().value!);
  }

  /** Lets one through and counts it, or doesn't. */
  take(address: string): boolean {
    const isFree = this.isFree(address);
    if (isFree) this.count(address);
    return isFree;
  }

  #waitOf(address: string): number {
    return Math.max(0, (this.#fullAtMs.get(networkOf(address)) ?? 0) - this.#nowMs());
  }
}

/** One machine may have any address of its 64-bit network (RFC 4291 §2.5.4). */
function networkOf(address: string): string {
  if (!address.includes(':')) return address;
  const [head = '', tail] = address.split('::');
  const before = head.split(':').filter((group) => group !== '');
  const after = (tail ?? '').split(':').filter((group) => group !== '');
  const zeros = tail === undefined ? 0 : Math.max(0, 8 - before.length - after.length);
  return [...before, ...Array<string>(zeros).fill('0'), ...after].slice(0, 4).join(':');
}
