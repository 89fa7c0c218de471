/** Codes, guests and passes: what lets a screen in, for how long, and what locks out whoever guesses. */
import { readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { codeAsMeant, newCode, newPass } from '../../../server/pairing/code.ts';
import { COME_WITH_ONE, GUEST_MS, Guests, GUESTS_MOST, INVITATION_MS } from '../../../server/pairing/guests.ts';
import { Tries } from '../../../server/pairing/tries.ts';
import { WALL_START_MS } from '../../support/server.ts';
import { freshFolder } from '../../support/store.ts';

const HERE = '192.168.7.20';

/** Guests on a clock in the test's hands. */
function guestsAt(folder = freshFolder()) {
  let nowMs = 0;
  let ids = 0;
  const newId = (): string => `id-${(ids += 1)}`;
  const options = { folder, nowMs: () => nowMs, wallNowMs: () => WALL_START_MS + nowMs, newId };
  return { guests: new Guests(options), folder, wait: (ms: number) => void (nowMs += ms), options };
}

function letIn(guests: Guests, code: string, name = 'Tablet') {
  const answer = guests.letIn(code, name, HERE);
  if (!answer.ok) throw new Error(answer.because);
  return answer;
}

describe('a code', () => {
  test('is eight of 32 letters, 40 bits, and hardly one is seen twice in ten thousand', () => {
    const codes = Array.from({ length: 10_000 }, newCode);
    for (const code of codes) expect(code).toMatch(/^[0-9A-HJKMNP-TV-Z]{4}-[0-9A-HJKMNP-TV-Z]{4}$/);
    // Of ten thousand out of 2^40, two pairs are alike once in 10^9.
    expect(new Set(codes).size).toBeGreaterThanOrEqual(codes.length - 1);
    // Each letter comes with the same chance: 80,000 letters, 2,500 of each, six standard deviations are 295.
    const counts = new Map<string, number>();
    for (const letter of codes.join('').replaceAll('-', '')) counts.set(letter, (counts.get(letter) ?? 0) + 1);
    expect(counts.size).toBe(32);
    for (const [letter, count] of counts) expect(Math.abs(count - 2_500), letter).toBeLessThan(295);
  });

  test.each(['7k3m-9qtb', ' 7K3M 9QTB ', '7K3M9QTB', '7k-3m-9q-tb'])('is understood as %s', (typed) => {
    expect(codeAsMeant(typed)).toBe(codeAsMeant('7K3M-9QTB'));
  });

  test('is understood where what was misread is no letter of it (Crockford, Base 32)', () => {
    expect(codeAsMeant('oOiIlL')).toBe('001111');
  });

  test('lets one screen take part, and a class look on', () => {
    const { guests } = guestsAt();
    const { code } = guests.invite('control');
    letIn(guests, code);
    expect(guests.letIn(code, 'Second', HERE)).toEqual({ ok: false, because: 'wrong' });
    const { code: forAll } = guests.invite('watch');
    for (let i = 0; i < COME_WITH_ONE.watch; i++) expect(letIn(guests, forAll).guest.role).toBe('watch');
    expect(guests.letIn(forAll, 'One more', HERE)).toEqual({ ok: false, because: 'wrong' });
  });

  test('holds for ten minutes and no longer, or until it is taken back', () => {
    const { guests, wait } = guestsAt();
    const { code } = guests.invite('control');
    wait(INVITATION_MS - 1);
    expect(guests.invitations).toHaveLength(1);
    wait(1);
    expect(guests.invitations).toEqual([]);
    expect(guests.letIn(code, '', HERE).ok).toBe(false);
    const other = guests.invite('control');
    expect(guests.withdraw(other.id)).toBe(true);
    expect(guests.withdraw(other.id)).toBe(false);
    expect(guests.letIn(other.code, '', HERE).ok).toBe(false);
  });

  test('that is guessed five times locks the guesser out, and nobody else', () => {
    const { guests, wait } = guestsAt();
    const { code } = guests.invite('control');
    for (let i = 0; i < 5; i++) expect(guests.letIn('0000-0000', '', HERE)).toEqual({ ok: false, because: 'wrong' });
    expect(guests.letIn(code, '', HERE)).toEqual({ ok: false, because: 'locked' });
    expect(guests.letIn(code, '', '192.168.7.21').ok).toBe(true);
    wait(120_000);
    expect(guests.letIn('0000-0000', '', HERE)).toEqual({ ok: false, because: 'wrong' });
    expect(guests.letIn('0000-0000', '', HERE)).toEqual({ ok: false, because: 'locked' });
  });

  test('no more are open than eight; the oldest gives way', () => {
    const { guests } = guestsAt();
    const codes = Array.from({ length: 9 }, () => guests.invite('watch').code);
    expect(guests.invitations.map(({ code }) => code)).toEqual(codes.slice(1));
  });
});

describe('a guest', () => {
  test('is known by its pass, after a restart too, and by nothing that lies on the disk', () => {
    const { guests, folder, options } = guestsAt();
    const { pass, guest } = letIn(guests, guests.invite('control').code, '  Tablet by the window ');
    expect(guest.name).toBe('Tablet by the window');
    expect(Buffer.from(pass, 'base64url')).toHaveLength(32);
    expect(guests.guestOf(pass)?.id).toBe(guest.id);
    const kept = readFileSync(join(folder, 'guests.json'), 'utf8');
    expect(kept).not.toContain(pass);
    expect(statSync(join(folder, 'guests.json')).mode & 0o077).toBe(0);
    const again = new Guests(options);
    expect(again.guestOf(pass)).toMatchObject({ id: guest.id, role: 'control' });
    for (const wrong of ['', pass.slice(1), `${pass}x`, newPass(), 'id-1']) expect(again.guestOf(wrong)).toBeNull();
  });

  test.each(['watch', 'control'] as const)('that may %s is one until its time is over', (role) => {
    const { guests, wait } = guestsAt();
    const { pass } = letIn(guests, guests.invite(role).code);
    wait(GUEST_MS[role] - 1);
    expect(guests.guestOf(pass)).not.toBeNull();
    wait(1);
    expect(guests.guestOf(pass)).toBeNull();
    expect(guests.guests).toEqual([]);
  });

  test('is shut out at once, and whoever asked to know is told', () => {
    const { guests, options } = guestsAt();
    const { pass, guest } = letIn(guests, guests.invite('watch').code);
    const gone: string[] = [];
    guests.onGone((id) => gone.push(id));
    expect(guests.revoke(guest.id)).toBe(true);
    expect(guests.revoke(guest.id)).toBe(false);
    expect(gone).toEqual([guest.id]);
    expect(guests.guestOf(pass)).toBeNull();
    expect(new Guests(options).guestOf(pass)).toBeNull();
  });

  test(`there are ${GUESTS_MOST} at most`, () => {
    const { guests } = guestsAt();
    for (let i = 0; i < GUESTS_MOST; i++) letIn(guests, guests.invite('control').code);
    expect(guests.letIn(guests.invite('control').code, '', HERE)).toEqual({ ok: false, because: 'full' });
  });

  test.each(['', '{', '{"guests":[{"id":1}]}', '{"guests":[{"__proto__":{"role":"control"}}]}'])(
    'a file that reads %s lets nobody in, and the next one is let in all the same',
    (text) => {
      const { folder, options } = guestsAt();
      writeFileSync(join(folder, 'guests.json'), text);
      const guests = new Guests(options);
      expect(guests.guests).toEqual([]);
      const { pass } = letIn(guests, guests.invite('watch').code);
      expect(new Guests(options).guestOf(pass)).not.toBeNull();
    },
  );
});

describe('tries', () => {
  test('are counted by address, those of one IPv6 network together, in bounded memory', () => {
    let nowMs = 0;
    const tries = new Tries({ most: 2, everyMs: 1_000 }, () => nowMs);
    expect(['fe80::1', 'fe80::2', 'fe80:0:0:0:9::3'].map((address) => tries.take(address))).toEqual([
      true,
      true,
      false,
    ]);
    expect(tries.take('fe80:0:0:1::1')).toBe(true);
    nowMs = 1_000;
    expect(['fe80::4', 'fe80::5'].map((address) => tries.take(address))).toEqual([true, false]);
    for (let i = 0; i < 5_000; i++) tries.count(`10.0.${i >> 8}.${i & 255}`);
    expect(tries.take('10.0.19.135')).toBe(true);
  });
});
