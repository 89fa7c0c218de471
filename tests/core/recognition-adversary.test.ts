/**
 * Thermometers put together by chance, with rubbish between their lines. LINES_SEEDS=6000 for a long look, LINES_FROM to begin elsewhere; a
 * failing one names its seed.
 */
import { expect, test } from 'vitest';
import { recognise, recognitionOf } from '../../server/core/reading/recognition.ts';
import { valuesByRole } from '../../server/core/reading/roles.ts';
import { type Adversary, adversary } from '../support/lines/adversary.ts';

const SEEDS = Number(process.env['LINES_SEEDS'] ?? 250);
const FROM = Number(process.env['LINES_FROM'] ?? 1);
const SAID = { decimalComma: null, roles: {} };
const EXACT_C = 1e-6;
/** Of the contract. */
const ASKED_MOST = 0.1;
/** Half of its lines must be read, of nearly all that are not asked about (ours: some stand still for all of their ten seconds). */
const READ_LEAST = 0.5;
const UNREAD_MOST = 0.03;

function heard({ lines }: Adversary) {
  let recognition = recognitionOf(null);
  const wrong: string[] = [];
  let [read, meant, asked] = [0, 0, false];
  for (const { atMs, text, chocolateC, temperaturesC } of lines) {
    const turn = recognise(recognition, text, atMs, SAID);
    recognition = turn.recognition;
    asked ||= recognition.asksComma || recognition.format?.asks === true;
    if (chocolateC !== null) meant += 1;
    if (!turn.reading.ok) continue;
    const { channels, places } = turn.reading;
    const { chocolate } = valuesByRole(channels, {}, places);
    if (chocolate !== undefined && !(Math.abs(chocolate! - (chocolateC ?? NaN)) <= EXACT_C))
      wrong.push(`${text}: ${chocolate}`);
    else if (chocolate !== undefined) read += 1;
    const isMeant = (valueC: number) => temperaturesC.some((each) => Math.abs(each - valueC) <= EXACT_C);
    for (const { key, valueC } of channels) if (!isMeant(valueC)) wrong.push(`${text}: ${key} ${valueC}`);
  }
  return { wrong, asked, share: read / meant };
}

test(`[R11] ${SEEDS} by chance, from ${FROM}: none is read wrongly, few are asked about, nearly all are read`, () => {
  let [asked, unread] = [0, 0];
  for (let n = FROM; n < FROM + SEEDS; n += 1) {
    const each = adversary(n * 7919);
    const found = heard(each);
    expect(found.wrong, `${n}: ${each.name}`).toEqual([]);
    if (found.asked) asked += 1;
    else if (found.share < READ_LEAST) unread += 1;
  }
  expect(asked / SEEDS).toBeLessThanOrEqual(ASKED_MOST);
  expect(unread / SEEDS).toBeLessThanOrEqual(UNREAD_MOST);
});
