/** Secrets that are read out, typed or carried: made by the system's own generator, kept as their hash, compared in constant time. */
import { createHash, randomBytes, randomInt, timingSafeEqual } from 'node:crypto';

/** Crockford's base 32: without I, L, O and U, which are misread or swear. */
const LETTERS = '0123456789ABCDEFGHJKMNPQRSTVWXYZ';
/** 8 letters of 32: 40 bits, in two groups that can be read out. */
const CODE_LENGTH = 8;
/** A pass is never typed, bytes: 256 bits. */
const PASS_BYTES = 32;

/** As it is shown: `7K3M-9QTB`. */
export function newCode(): string {
  const letters = Array.from({ length: CODE_LENGTH }, () => LETTERS[randomInt(LETTERS.length)]!).join('');
  return `${letters.slice(0, CODE_LENGTH / 2)}-${letters.slice(CODE_LENGTH / 2)}`;
}

/** As it was meant, however it was typed: small letters, blanks, and what Crockford takes for a misread one. */
export function codeAsMeant(typed: string): string {
  const letters = typed.toUpperCase().replaceAll(/[\s-]/g, '').replaceAll('O', '0').replaceAll(/[IL]/g, '1');
  return letters.slice(0, CODE_LENGTH * 2);
}

export function newPass(): string {
  return randomBytes(PASS_BYTES).toString('base64url');
}

/** SHA-256, in hexadecimal: enough where the secret itself is random. */
export function hashOf(secret: string): string {
  return createHash('sha256').update(secret).digest('hex');
}

/** Takes as long whether they differ early, late or not at all. */
export function isSame(hash: string, other: string): boolean {
  const [a, b] = [Buffer.from(hash, 'hex'), Buffer.from(other, 'hex')];
  return a.length === b.length && timingSafeEqual(a, b);
}
