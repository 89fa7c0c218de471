/** When a bowl counts as left alone, and which alarm sounds: the two rules that page and host share. */
import { describe, expect, test } from 'vitest';
import { isByPerson, isLeftAlone, SILENT_MS, UNTENDED_MS } from '../../server/core/show/resting.ts';
import type { Bowl } from '../../server/core/show/resting.ts';
import { ringing } from '../../server/core/show/ringing.ts';
import type { ActiveAlarm } from '../../server/core/show/view.ts';
import type { RunEvent } from '../../server/core/record/event.ts';
import { alarm } from '../support/alarm.ts';
import { shipped } from '../support/shipped.ts';

const AT_MS = 10 * UNTENDED_MS;

interface Found {
  readonly tempC?: number | null;
  readonly rateCPerMin?: number;
  readonly untendedMs?: number;
  readonly silentMs?: number;
  readonly alarms?: readonly ActiveAlarm[];
}

/** Dark chocolate, whose working floor is 30.5 °C; by default grown cold over night. */
function bowl({ tempC = 21, rateCPerMin = 0, untendedMs = UNTENDED_MS, silentMs = 0, alarms = [] }: Found): Bowl {
  const estimate =
    tempC === null
      ? null
      : {
          kind: 'estimate' as const,
          atMs: AT_MS,
          phase: 'work',
          tempC,
          rateCPerMin,
          etaS: null,
          etaLowS: null,
          etaHighS: null,
          peakC: null,
        };
  return {
    tendedAtMs: AT_MS - untendedMs,
    profile: shipped('dark'),
    alarms,
    now: {
      atMs: AT_MS,
      stale: silentMs > 0,
      reading: { valueC: tempC ?? 21, atMs: AT_MS - silentMs, quality: 'good' },
      estimate,
    },
  };
}

describe('left alone', () => {
  test.each<[string, boolean, boolean, Found]>([
    ['cold and still, nobody for an hour', true, false, {}],
    ['the same a second earlier', false, false, { untendedMs: UNTENDED_MS - 1_000 }],
    ['rested before, and somebody came', false, true, { untendedMs: 0 }],
    ['just under the working floor and falling as in a room', true, false, { tempC: 30.4, rateCPerMin: -0.1 }],
    ['falling as in a cold bath', false, false, { tempC: 27, rateCPerMin: -0.2 }],
    ['being warmed', false, true, { tempC: 24, rateCPerMin: 0.1 }],
    ['at the work, nobody for five hours', false, false, { tempC: 31.5, untendedMs: 5 * UNTENDED_MS }],
    ['at the work and just fallen silent', false, false, { tempC: null, silentMs: SILENT_MS - 1 }],
    ['silent for ten minutes', true, false, { tempC: null, silentMs: SILENT_MS }],
    ['resting, and now fallen silent', true, true, { tempC: null, silentMs: 5_000 }],
    ['critical and unseen', false, true, { alarms: [alarm({ alarm: 'scorch', severity: 'critical' })] }],
    [
      'critical and seen',
      true,
      false,
      { alarms: [alarm({ alarm: 'scorch', severity: 'critical', acknowledged: true })] },
    ],
  ])('%s: %s (before: %s)', (_, expected, before, found) => {
    expect(isLeftAlone(before, bowl(found))).toBe(expected);
  });

  test('a thermometer that never said anything counts from when somebody was last there', () => {
    const found = bowl({ tempC: null, silentMs: 1 });
    expect(isLeftAlone(false, { ...found, now: { ...found.now, reading: null } })).toBe(true);
  });

  test('a person stands behind acts, taps, steps by hand and settings, and behind nothing else', () => {
    const byPerson: readonly RunEvent[] = [
      { seq: 1, atMs: 0, kind: 'act', act: 'stirred' },
      { seq: 2, atMs: 0, kind: 'alarm-acknowledged', alarm: 'overshoot' },
      { seq: 3, atMs: 0, kind: 'alarm-quietened', alarm: 'overshoot', untilMs: 1 },
      { seq: 4, atMs: 0, kind: 'phase-entered', phase: 'cool', from: 'melt', by: 'hand' },
      { seq: 5, atMs: 0, kind: 'correction-changed', offsetC: 0, gain: 1 },
      { seq: 6, atMs: 0, kind: 'role-changed', channel: 'a', role: 'bath' },
    ];
    const byItself: readonly RunEvent[] = [
      { seq: 7, atMs: 0, kind: 'phase-entered', phase: 'cool', from: 'melt', by: 'reached' },
      { seq: 8, atMs: 0, kind: 'cue', cue: 'stir', phase: 'cool' },
      { seq: 9, atMs: 0, kind: 'alarm-cleared', alarm: 'overshoot', lastedMs: 1, extremeC: null },
      { seq: 10, atMs: 0, kind: 'link', up: false },
    ];
    expect(byPerson.filter((event) => !isByPerson(event))).toEqual([]);
    expect(byItself.filter(isByPerson)).toEqual([]);
  });
});

describe('what sounds', () => {
  const lost = alarm({ alarm: 'temper-lost', severity: 'critical', raisedAtMs: 5 });

  test('is what nobody has seen, worst first; a notice does not', () => {
    expect(ringing([lost, alarm(), alarm({ alarm: 'below-working', severity: 'notice' })], 10)).toEqual([
      lost,
      alarm(),
    ]);
    expect(ringing([alarm({ acknowledged: true })], 10)).toEqual([]);
  });

  test('is not what was quietened, until its two minutes are over', () => {
    const quiet = alarm({ quietUntilMs: 120_000 });
    expect(ringing([quiet], 119_999)).toEqual([]);
    expect(ringing([quiet], 120_000)).toEqual([quiet]);
    expect(ringing([lost, quiet], 10)).toEqual([lost]);
  });
});
