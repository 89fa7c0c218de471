/** A replayed run as lines for the terminal: plain words, the page's own, and no code names. */
import { expect, test } from 'vitest';
import type { EventBody } from '../../../server/core/record/event.ts';
import { eventWords } from '../../../server/commands/replay-words.ts';
import * as terminal from '../../../server/names.ts';
import { ACT_NAME, ALARM_NAME, STANDING_AT_END, STANDING_NAME } from '../../../web/words/names.ts';
import { CUE_NAME, REJECT_NAME, STANDING_WHY, STIR_NAME } from '../../../web/words/log-names.ts';
import { logPath, storyNames } from '../../support/fixtures.ts';
import { readFileSync } from 'node:fs';
import { decodeRunFile } from '../../../server/core/record/trace.ts';

const said = (body: EventBody): string => eventWords({ ...body, seq: 1, atMs: 0 });

test.each([
  [{ kind: 'phase-entered', phase: 'melt', from: null, by: 'hand' }, 'Phase melt.'],
  [{ kind: 'phase-entered', phase: 'cool', from: 'melt', by: 'reached' }, 'Phase cool, after melt.'],
  [{ kind: 'phase-entered', phase: 'cool', from: 'melt', by: 'hand' }, 'Phase cool, after melt, by hand.'],
  [{ kind: 'phase-entered', phase: 'cool', from: 'work', by: 'recovery' }, 'Phase cool, after work, to begin again.'],
  [{ kind: 'standing', standing: 'at-risk', why: 'over-ceiling' }, 'Temper at risk: it has been over the ceiling.'],
  [{ kind: 'act', act: 'topped-up-untempered' }, 'Noted: topped up, untempered.'],
  [
    { kind: 'alarm-raised', alarm: 'overshoot', severity: 'warning', phase: 'work', valueC: 32.6, limitC: 32.5 },
    'ALARM, over the ceiling at 32.60 °C, the limit is 32.50 °C.',
  ],
  [
    { kind: 'alarm-raised', alarm: 'not-cooled-enough', severity: 'warning', phase: 'cool', valueC: 29.07, limitC: 28 },
    'ALARM, not cooled enough: down to 29.07 °C, the seed needs 28.00 °C.',
  ],
  [
    { kind: 'alarm-raised', alarm: 'not-cooled-enough', severity: 'warning', phase: 'cool', valueC: 27.41, limitC: 28 },
    'ALARM, not cooled enough: down to 27.41 °C, not long enough under 28.00 °C.',
  ],
  [
    { kind: 'cue', cue: 'off-heat', phase: 'rewarm', inS: 20, landsC: 31.6 },
    'Said: off the heat in 20 s, it would end at 31.60 °C.',
  ],
  [
    { kind: 'cue', cue: 'off-cold', phase: 'cool', inS: 0, landsC: 26.9 },
    'Said: off the cold now, it would end at 26.90 °C.',
  ],
  [{ kind: 'cue', cue: 'strip-test', phase: 'work' }, 'Said: do the strip test.'],
  [{ kind: 'alarm-cleared', alarm: 'probe-silent', lastedMs: 36_000, extremeC: null }, 'Past: no reading for 0:00:36.'],
] as const)('%j', (body, words) => {
  expect(said(body)).toBe(words);
});

test('the terminal calls things what the page calls them', () => {
  const page = { ACT_NAME, ALARM_NAME, CUE_NAME, REJECT_NAME, STANDING_AT_END, STANDING_NAME, STANDING_WHY, STIR_NAME };
  const { enteredBy: _entered, cueTold: _cue, ...names } = terminal;
  expect(names).toEqual(page);
});

test.each(storyNames())('%s has no code names in it', (story) => {
  const read = decodeRunFile(readFileSync(logPath(story), 'utf8'));
  if (!read.ok) throw new Error(read.reason);
  for (const event of read.value.events) expect(eventWords(event)).not.toMatch(/[a-z]-[a-z]+-[a-z]|\(\w+\)|_/);
});
