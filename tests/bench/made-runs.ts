/** A data folder as it is after years: ten thousand runs to list, and one of a long day at ten readings a second. Made up; the same every time. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Card } from '../../server/core/record/card.ts';
import type { AlarmName, RunEvent, Standing } from '../../server/core/record/event.ts';
import type { Profile } from '../../server/core/record/profile.ts';
import type { Reading } from '../../server/core/record/run.ts';
import type { Entry } from '../../server/store/batch.ts';
import { openForWriting } from '../../server/store/database.ts';
import { MIGRATIONS, migrate } from '../../server/store/migrations.ts';
import { Recorder } from '../../server/store/recorder.ts';
import type { NewRun, Turn } from '../../server/store/records.ts';
import { headerFor } from '../support/bowl.ts';

export const LONG_RUN = 'a-long-day';
const HOURS = 8;
const PER_SECOND = 10;
/** As many turns are committed at once as the writer takes (`store/backlog.ts`). */
const BATCH = 2_000;
/** Seconds of a listed run that are recorded: one column of its picture each. */
const PICTURE_S = 120;

const COATINGS = ['dark', 'milk', 'white'] as const;
const STANDINGS: readonly Standing[] = ['in-temper', 'unproven', 'at-risk', 'lost'];
const CENTRES = ['candied ginger', 'sea salt caramel'];

/** Makes the data file in a folder that exists; `profiles`: the project's folder of them. */
export function fillFolder(folder: string, profiles: string, runs: number): void {
  const db = openForWriting(join(folder, 'bowlside.sqlite'), true);
  migrate(db, MIGRATIONS);
  db.pragma('synchronous = OFF');
  const recorder = new Recorder(db);
  const known = COATINGS.map((id) => JSON.parse(readFileSync(join(profiles, `${id}.json`), 'utf8')) as Profile);
  for (let i = 0; i < runs; i++) recorder.commit(shortRun(i, known[i % known.length]!));
  for (let from = 0; from < LONG_TURNS; from += BATCH) recorder.commit(longRun(from, from + BATCH, known[0]!));
  db.close();
}

const LONG_TURNS = HOURS * 3_600 * PER_SECOND;

export function newRun(run: string, startedAtWall: string, profile: Profile, simulated: boolean): NewRun {
  const header = headerFor(profile, { condition: 'solid', probeLagS: null });
  return { run, bowl: 'bowl-1', header, simulated, startedAtMs: 0, startedAtWall, source: 'made up' };
}

/** Melted, cooled, rewarmed, held: °C by the share of the run that has gone by. */
function courseC(share: number): number {
  const points = [
    [0, 22],
    [0.25, 47],
    [0.5, 27.2],
    [0.65, 31.5],
    [1, 31.2],
  ] as const;
  const next = points.findIndex(([at]) => at >= share);
  const [fromAt, fromC] = points[Math.max(0, next - 1)]!;
  const [toAt, toC] = points[Math.max(0, next)]!;
  const value = toAt === fromAt ? fromC : fromC + ((share - fromAt) / (toAt - fromAt)) * (toC - fromC);
  return Math.round(value * 100) / 100;
}

function shortRun(i: number, profile: Profile): Entry[] {
  const run = `run-${i}`;
  const startedAtWall = new Date(Date.UTC(2006, 0, 1) + i * 16 * 3_600_000).toISOString();
  const turns = Array.from({ length: PICTURE_S }, (_, s) => shortTurn(i, s, profile));
  const change: Partial<Card> = {
    name: i % 3 === 0 ? `${CENTRES[i % 2]}, tray ${i % 7}` : null,
    centre: CENTRES[i % 2]!,
    lot: `L-${10_000 + i}`,
    kg: 1 + (i % 8) / 4,
    tags: i % 5 === 0 ? ['gift', 'winter'] : ['shop'],
  };
  return [
    { kind: 'begin', run: newRun(run, startedAtWall, profile, i % 20 === 0), wallMs: 0 },
    ...turns.map((content, n): Entry => ({ kind: 'turn', run, turn: n + 1, wallMs: 0, content, checkpoint: null })),
    { kind: 'end', run, endedAtMs: PICTURE_S * 1_000, learned: null },
    { kind: 'card', run, entry: { writtenAtWall: startedAtWall, by: null, change } },
  ];
}

function shortTurn(i: number, s: number, profile: Profile): Turn {
  const atMs = s * 1_000;
  const valueC = courseC(s / PICTURE_S);
  return {
    input: { atMs, source: 'made up', kind: 'line', text: valueC.toFixed(2) },
    events: eventsAt(i, s, profile).map((body, n): RunEvent => ({ ...body, seq: s * 4 + n + 1, atMs }) as RunEvent),
    readings: [{ atMs, role: 'chocolate', valueC, quality: 'good', estimateC: valueC }],
  };
}

function eventsAt(i: number, s: number, { phases }: Profile): readonly object[] {
  const entered = phases[Math.floor((s * phases.length) / PICTURE_S)]!;
  const isNew = Number.isInteger((s * phases.length) / PICTURE_S);
  const events: object[] = isNew ? [{ kind: 'phase-entered', phase: entered.id, from: null, by: 'reached' }] : [];
  if (s === PICTURE_S - 1) events.push({ kind: 'standing', standing: STANDINGS[i % 4]!, why: 'seed-made' });
  const alarm: AlarmName = 'overshoot';
  if (s === PICTURE_S - 1 && i % 3 === 0)
    events.push({ kind: 'alarm-raised', alarm, severity: 'urgent', phase: entered.id, limitC: 30.9, valueC: 31.2 });
  return events;
}

/** A piece of the long run, its turns counted from 0: four thermometers' values on every line. */
export function longRun(from: number, until: number, profile: Profile): Entry[] {
  const entries: Entry[] = [];
  if (from === 0)
    entries.push({ kind: 'begin', run: newRun(LONG_RUN, '2026-11-25T06:00:00.000Z', profile, false), wallMs: 0 });
  for (let n = from; n < Math.min(LONG_TURNS, until); n++)
    entries.push({
      kind: 'turn',
      run: LONG_RUN,
      turn: n + 1,
      wallMs: 0,
      content: longTurn(n, profile),
      checkpoint: null,
    });
  if (until >= LONG_TURNS)
    entries.push({ kind: 'end', run: LONG_RUN, endedAtMs: (LONG_TURNS * 1_000) / PER_SECOND, learned: null });
  return entries;
}

function longTurn(n: number, { phases }: Profile): Turn {
  const atMs = (n * 1_000) / PER_SECOND;
  const chocolateC = Math.round((courseC(n / LONG_TURNS) + 0.08 * Math.sin(n / 23)) * 100) / 100;
  const values = [chocolateC, 55 + (n % 40) / 10, 20.5, chocolateC + 0.3];
  const roles = ['chocolate', 'bath', 'room', 'ignored'] as const;
  const share = (n * phases.length) / LONG_TURNS;
  const entered = { seq: share + 1, atMs, kind: 'phase-entered', phase: phases[share]?.id, from: null, by: 'reached' };
  return {
    input: { atMs, source: 'made up', kind: 'line', text: values.map((value) => value.toFixed(2)).join(' ') },
    events: Number.isInteger(share) ? [entered as RunEvent] : [],
    readings: roles.map((role, k): Reading => {
      const estimateC = role === 'chocolate' ? chocolateC : null;
      return { atMs, role, valueC: Math.round(values[k]! * 100) / 100, quality: 'good', estimateC };
    }),
  };
}
