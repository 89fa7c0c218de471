/** Two logs of one trace beside each other: what each says, the differences in plain words, and honesty where there should be none. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import type { RunEvent } from '../../server/core/record/event.ts';
import type { Judgement } from '../../server/core/record/judgement.ts';
import { decodeRunFile } from '../../server/core/record/trace.ts';
import type { Profile } from '../../server/core/record/profile.ts';
import { judgeAgain } from '../../server/judging/judge.ts';
import { under } from '../../server/judging/under.ts';
import { furthestApart, sideOf } from '../../web/side-by-side.ts';
import { comparedRows, comparedSentence, differences, whyNotTheSame } from '../../web/words/side-by-side.ts';
import { shipped } from '../support/shipped.ts';

const file = decodeRunFile(
  readFileSync(join(import.meta.dirname, '../../fixtures/overshoot-in-rewarm.trace.jsonl'), 'utf8'),
);
if (!file.ok) throw new Error(file.reason);
const { header, inputs } = file.value;
const END_MS = inputs.at(-1)!.atMs;

function logOf(
  profile: Profile,
  engine: number,
  more: (events: readonly RunEvent[]) => readonly RunEvent[] = (all) => all,
) {
  const log = judgeAgain(
    { ...header, profile },
    inputs.map((input) => under(profile, input)),
  );
  const info = {
    run: 'r1',
    profile,
    condition: header.condition,
    simulated: true,
    startedAtMs: inputs[0]!.atMs,
    startedAtWall: '2026-11-25T09:00:00',
    probeLagS: null,
    resumed: false,
  };
  return sideOf({ info, engine, events: more(log.events), tiles: log.tiles }, END_MS);
}

const FIRST = logOf(header.profile, header.engine);
const SAME: Judgement = {
  id: 'j1',
  judgedAtWall: '2026-11-26T09:00:00',
  header,
  isOwnProfile: true,
  inputs: inputs.length,
  events: 1,
  differsFromSeq: null,
  hasLostInputs: false,
  visits: [],
  standing: null,
  worstAlarm: null,
  worstOverC: null,
};

describe('the same log', () => {
  test('has no difference, and says that this is as it should be', () => {
    expect(differences(FIRST, FIRST)).toEqual([]);
    expect(comparedRows(FIRST, FIRST).filter(({ differs }) => differs)).toEqual([]);
    expect(comparedSentence(FIRST, FIRST, SAME)).toEqual({
      act: 'The same log.',
      detail: 'As it should be: same engine, same numbers.',
    });
    expect(whyNotTheSame(FIRST, SAME)).toEqual([]);
    expect(furthestApart(FIRST.tiles, FIRST.tiles)!.byC).toBe(0);
  });

  test('of an older engine is the same word for word', () => {
    const today = { ...FIRST, engine: FIRST.engine + 1 };
    expect(comparedSentence(FIRST, today, SAME).detail).toBe('Today’s engine says the same, word for word.');
  });
});

describe('another log', () => {
  test('under the same engine and numbers is said to be wrong, with what can be said of the cause', () => {
    const judgement = { ...SAME, differsFromSeq: 7 };
    expect(comparedSentence(FIRST, FIRST, judgement)).toEqual({
      act: 'Not the same log.',
      detail: 'Same engine, same numbers: they should not part at event 7.',
    });
    expect(whyNotTheSame(FIRST, judgement)[0]).toContain('another kind of processor');
    expect(whyNotTheSame(FIRST, { ...judgement, hasLostInputs: true })).toEqual([
      'Some readings of this run never got to the disk. The second log knows nothing of them.',
    ]);
    expect(whyNotTheSame(FIRST, { ...judgement, isOwnProfile: false })).toEqual([]);
    expect(whyNotTheSame({ ...FIRST, engine: 1 }, judgement)).toEqual([]);
  });

  test('of today’s engine counts its differences and names both engines', () => {
    const later = logOf(header.profile, header.engine + 1, (events) =>
      events.map((event) =>
        event.kind === 'phase-entered' && event.phase === 'work' ? { ...event, atMs: event.atMs + 12_000 } : event,
      ),
    );
    const judgement = { ...SAME, differsFromSeq: 7, header: { ...header, engine: header.engine + 1 } };
    expect(differences(FIRST, later)).toEqual(['Work: begun 12 s later in the second log.']);
    expect(comparedSentence(FIRST, later, judgement)).toEqual({
      act: 'One difference.',
      detail: `Same numbers; engine ${header.engine} then, ${header.engine + 1} today.`,
    });
  });

  test('names the alarm that only one of them raised, the temper at the end, and what was said how often', () => {
    const without = logOf(header.profile, header.engine, (events) =>
      events.filter((event) => !['alarm-raised', 'alarm-cleared', 'standing', 'cue'].includes(event.kind)),
    );
    const told = differences(FIRST, without).join('\n');
    expect(told).toMatch(/^Temper at the end: “.+” in the first log, “Temper not known” in the second\.$/m);
    expect(told).toMatch(/^Only the first log raised: \d\d:\d\d, over the ceiling, .+, furthest at 3\d\.\d\.$/m);
    expect(told).toMatch(/^Said “off the heat” .+ in the first log, never in the second\.$/m);
    expect(differences(without, FIRST).join('\n')).toMatch(/^Only the second log raised: /m);
  });

  test('by another profile stands beside the first, row by row', () => {
    const milk = logOf(shipped('milk'), header.engine);
    const rows = comparedRows(FIRST, milk);
    expect(rows.map(({ name }) => name)).toEqual(
      expect.arrayContaining([
        'Engine',
        'Melt',
        'Cool',
        'Rewarm',
        'Work',
        'Alarms',
        'Temper at the end',
        'Furthest over',
      ]),
    );
    const engine = rows.find(({ name }) => name === 'Engine')!;
    expect(engine).toMatchObject({ differs: true, second: [`${header.engine}, ${shipped('milk').title}`] });
    expect(rows.find(({ name }) => name === 'Melt')!.first[0]).toMatch(/^\d\d:\d\d, .+, up to 4\d\.\d$/);
    const judgement = { ...SAME, isOwnProfile: false, differsFromSeq: 2 };
    const { act, detail } = comparedSentence(FIRST, milk, judgement);
    expect(act).toBe(`As ${shipped('milk').title}.`);
    expect(detail).toMatch(/differences? from the first log\.$/);
  });

  test('whose curves have no moment in common are not said to be apart', () => {
    expect(furthestApart([[0, 1, 1, 1]], [[5, 1, 1, 1]])).toBeNull();
    expect(
      furthestApart(
        [
          [0, 1, 1, 30],
          [1, 1, 1, 31],
        ],
        [
          [0, 1, 1, 30.2],
          [1, 1, 1, null],
        ],
      ),
    ).toEqual({
      atMs: 0,
      byC: expect.closeTo(0.2),
    });
  });
});
