/** The fold that every page shows: live, from a snapshot, and over a stored run. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { ALARMS, CUES } from '../../server/core/record/event.ts';
import type { EventBody, RunEvent } from '../../server/core/record/event.ts';
import { ACTS } from '../../server/core/record/command.ts';
import { emptyView, foldEvent, foldEvents, foldNote, openView, URGENCY } from '../../server/core/show/view.ts';
import type { NoteInfo, RunInfo } from '../../server/core/show/wire.ts';
import { OVERSHOOT } from '../support/alarm.ts';

const INFO: RunInfo = {
  run: 'r1',
  profile: {
    id: 'ginger',
    title: 'Ginger dark',
    coating: 'dark',
    source: 'ours',
    phases: [
      { id: 'melt', heading: 'up', bandC: [45, 50] },
      { id: 'cool', heading: 'down', bandC: [27, 28] },
      { id: 'work', heading: 'hold', bandC: [31, 32] },
    ],
  },
  condition: 'solid',
  simulated: false,
  startedAtMs: 0,
  startedAtWall: '2026-11-24T13:40:00',
  probeLagS: null,
  resumed: false,
};

function numbered(bodies: readonly EventBody[], fromSeq = 1): RunEvent[] {
  return bodies.map((body, i): RunEvent => ({ ...body, seq: fromSeq + i, atMs: (fromSeq + i) * 1000 }));
}

function viewOf(...bodies: readonly EventBody[]) {
  return foldEvents(openView(INFO), numbered(bodies));
}

function note(id: string, atMs: number): NoteInfo {
  return { id, atMs, text: `note ${id}`, by: 'Ana', writtenAtWall: '2026-11-24T14:00:00' };
}

describe('numbers', () => {
  test('an event already folded changes nothing, even if its words differ', () => {
    const view = viewOf({ kind: 'act', act: 'stirred' });
    expect(foldEvent(view, { seq: 1, atMs: 9, kind: 'act', act: 'off-heat' })).toBe(view);
  });

  test('a hole in the numbers is remembered, and what comes after it is folded all the same', () => {
    const view = foldEvents(viewOf({ kind: 'act', act: 'stirred' }), numbered([OVERSHOOT], 5));
    expect(view.missing).toEqual({ fromSeq: 2, toSeq: 4 });
    expect(view.alarms).toHaveLength(1);
    expect(view.lastSeq).toBe(5);
  });

  test('an event of a kind not known here is numbered and otherwise left alone', () => {
    const unknown = { seq: 1, atMs: 0, kind: 'moon-phase' } as unknown as RunEvent;
    const view = foldEvent(openView(INFO), unknown);
    expect(view).toEqual({ ...openView(INFO), lastSeq: 1 });
  });
});

describe('phases', () => {
  test('each visit is kept with when it began, when its band was reached, how and when it ended', () => {
    const view = viewOf(
      { kind: 'phase-entered', phase: 'melt', from: null, by: 'reached' },
      { kind: 'band-reached', phase: 'melt', valueC: 45 },
      { kind: 'phase-entered', phase: 'cool', from: 'melt', by: 'hand' },
    );
    expect(view.phase).toBe('cool');
    expect(view.visits).toEqual([
      { phase: 'melt', enteredAtMs: 1000, leftAtMs: 3000, by: 'reached', reachedAtMs: 2000 },
      { phase: 'cool', enteredAtMs: 3000, leftAtMs: null, by: 'hand', reachedAtMs: null },
    ]);
  });

  test('the end of the run closes the last visit and takes alarms and cue with it', () => {
    const view = viewOf(
      { kind: 'phase-entered', phase: 'work', from: null, by: 'hand' },
      OVERSHOOT,
      { kind: 'cue', cue: 'stir', phase: 'work' },
      { kind: 'run-ended', by: 'hand' },
    );
    expect(view.visits[0]?.leftAtMs).toBe(4000);
    expect([view.alarms, view.cue, view.ended]).toEqual([[], null, { by: 'hand', atMs: 4000 }]);
    expect(view.pastAlarms).toMatchObject([
      { alarm: 'overshoot', raisedAtMs: 2000, clearedAtMs: 4000, lastedMs: 2000 },
    ]);
  });
});

describe('alarms', () => {
  test('the worst stands first, whatever the order they were raised in', () => {
    const view = viewOf(
      { ...OVERSHOOT, alarm: 'below-working', severity: 'notice' },
      { ...OVERSHOOT, alarm: 'temper-lost', severity: 'critical' },
      OVERSHOOT,
    );
    expect(view.alarms.map(({ alarm }) => alarm)).toEqual(['temper-lost', 'overshoot', 'below-working']);
    expect(view.worstAlarm).toBe('temper-lost');
  });

  test('an alarm seen stays until it clears, and then leaves nothing unseen', () => {
    const seen = viewOf(OVERSHOOT, { kind: 'alarm-acknowledged', alarm: 'overshoot', by: 'Jo' });
    expect(seen.alarms[0]).toMatchObject({ acknowledged: true, acknowledgedBy: 'Jo', acknowledgedAtMs: 2000 });
    const cleared = foldEvents(
      seen,
      numbered([{ kind: 'alarm-cleared', alarm: 'overshoot', lastedMs: 2000, extremeC: 32.9 }], 3),
    );
    expect([cleared.alarms, cleared.unseen]).toEqual([[], []]);
    expect(cleared.pastAlarms).toHaveLength(1);
  });

  test('an alarm that clears before anyone has seen it stays unseen until it is acknowledged or raised again', () => {
    const cleared = { kind: 'alarm-cleared', alarm: 'overshoot', lastedMs: 1000, extremeC: 32.8 } as const;
    const view = viewOf(OVERSHOOT, cleared);
    expect(view.unseen).toMatchObject([{ alarm: 'overshoot', raisedAtMs: 1000, clearedAtMs: 2000, extremeC: 32.8 }]);
    const read = foldEvents(view, numbered([{ kind: 'alarm-acknowledged', alarm: 'overshoot' }], 3));
    expect(read.unseen).toEqual([]);
    expect(foldEvents(view, numbered([OVERSHOOT], 3)).unseen).toEqual([]);
  });

  test('quiet is for the sound only: the alarm stays unseen', () => {
    const view = viewOf(OVERSHOOT, { kind: 'alarm-quietened', alarm: 'overshoot', untilMs: 122_000 });
    expect(view.alarms[0]).toMatchObject({ acknowledged: false, quietUntilMs: 122_000 });
  });

  test('urgency follows the order in which the alarms are listed', () => {
    expect(Object.entries(URGENCY).toSorted(([, a], [, b]) => a - b)).toEqual(ALARMS.map((alarm, i) => [alarm, i]));
  });
});

describe('cues', () => {
  const cue = { kind: 'cue', cue: 'off-heat', phase: 'rewarm', inS: 18, landsC: 31.6 } as const;

  test('the newest stands until the act it asks for', () => {
    expect(viewOf(cue).cue).toMatchObject({ cue: 'off-heat', inS: 18, landsC: 31.6 });
    expect(viewOf(cue, { kind: 'act', act: 'stirred' }).cue).not.toBeNull();
    expect(viewOf(cue, { kind: 'act', act: 'off-heat' }).cue).toBeNull();
  });

  test('a new phase takes the cue of the old one away', () => {
    expect(viewOf(cue, { kind: 'phase-entered', phase: 'work', from: 'rewarm', by: 'reached' }).cue).toBeNull();
  });
});

describe('notes', () => {
  test('a note takes its place by its moment, once', () => {
    const view = viewOf({ kind: 'act', act: 'stirred' }, { kind: 'act', act: 'off-heat' });
    const noted = [note('b', 1500), note('a', 500), note('b', 1500)].reduce(foldNote, view);
    expect(noted.marks.map(({ id }) => id)).toEqual(['note-a', 'event-1', 'note-b', 'event-2']);
  });

  test('a later note takes the place of an older one or of an act, or strikes it out, in whatever order they are said again', () => {
    const view = viewOf({ kind: 'act', act: 'stirred' }, { kind: 'act', act: 'off-heat' });
    const changed = { ...note('c', 1500), replaces: 'note-b' };
    const corrected = { ...note('d', 2000), replaces: 'event-2' };
    const struck = { ...note('e', 1500), text: '', replaces: 'note-c' };
    const all = [note('b', 1500), changed, corrected, struck];
    const marksOf = (notes: readonly NoteInfo[]) => notes.reduce(foldNote, view).marks.map(({ id }) => id);
    expect(marksOf(all.slice(0, 2))).toEqual(['event-1', 'note-c', 'event-2']);
    expect(marksOf(all)).toEqual(['event-1', 'note-d']);
    expect(marksOf([...all, ...all])).toEqual(['event-1', 'note-d']);
  });
});

const aBody: fc.Arbitrary<EventBody> = fc.oneof(
  fc.record({
    kind: fc.constant('phase-entered' as const),
    phase: fc.constantFrom('melt', 'cool', 'work'),
    from: fc.constant(null),
    by: fc.constantFrom('reached' as const, 'hand' as const),
  }),
  fc.record({ kind: fc.constant('act' as const), act: fc.constantFrom(...ACTS) }),
  fc.record({
    kind: fc.constant('alarm-raised' as const),
    alarm: fc.constantFrom(...ALARMS),
    severity: fc.constantFrom('warning' as const, 'critical' as const),
    phase: fc.constant('work'),
    valueC: fc.constant(33),
    limitC: fc.constant(32.5),
  }),
  fc.record({
    kind: fc.constant('alarm-cleared' as const),
    alarm: fc.constantFrom(...ALARMS),
    lastedMs: fc.nat(),
    extremeC: fc.constant(33),
  }),
  fc.record({ kind: fc.constant('alarm-acknowledged' as const), alarm: fc.constantFrom(...ALARMS) }),
  fc.record({ kind: fc.constant('cue' as const), cue: fc.constantFrom(...CUES), phase: fc.constant('work') }),
);

describe('any log', () => {
  test('halves of a fold equal the whole, also when the second half repeats some of the first', () => {
    fc.assert(
      fc.property(fc.array(aBody, { maxLength: 40 }), fc.nat(40), fc.nat(10), (bodies, cut, again) => {
        const events = numbered(bodies);
        const at = Math.min(cut, events.length);
        const half = foldEvents(openView(INFO), events.slice(0, at));
        const rest = events.slice(Math.max(0, at - again));
        expect(foldEvents(half, rest)).toEqual(foldEvents(openView(INFO), events));
      }),
      { seed: 20_261_124 },
    );
  });

  test('no alarm is both standing and over, and never more than one visit is open', () => {
    fc.assert(
      fc.property(fc.array(aBody, { maxLength: 60 }), (bodies) => {
        const view = foldEvents(openView(INFO), numbered(bodies));
        const standing = view.alarms.map(({ alarm }) => alarm);
        expect(new Set(standing).size).toBe(standing.length);
        expect(view.unseen.filter(({ alarm }) => standing.includes(alarm))).toEqual([]);
        expect(view.visits.filter(({ leftAtMs }) => leftAtMs === null).length).toBeLessThanOrEqual(1);
      }),
      { seed: 20_261_125 },
    );
  });

  test('a fold leaves what it was given as it was', () => {
    const before = structuredClone(emptyView);
    foldEvents(emptyView, numbered([OVERSHOOT, { kind: 'act', act: 'stirred' }]));
    expect(emptyView).toEqual(before);
  });
});
