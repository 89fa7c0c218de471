/** Ended runs in a store, each the invented afternoon of the scenes (`scenes.ts`) on another day, with a card of its own. */
import type { Card } from '../../server/core/record/card.ts';
import type { RunEvent } from '../../server/core/record/event.ts';
import type { NewRun } from '../../server/store/records.ts';
import type { Store } from '../../server/store/store.ts';
import { headerFor } from './bowl.ts';
import { DARK, eventsUpTo, msAt, readingsUpTo } from './scenes.ts';

/** Minutes of the afternoon, and seconds between its readings here: the shape is what counts. */
const MIN = 118;
const STEP_S = 5;
const AFTERNOON = readingsUpTo(MIN).filter((_, s) => s % STEP_S === 0);

const HEADER = headerFor(DARK, { engine: 1, condition: 'solid', probeLagS: null });

export interface KeptRun {
  readonly run: string;
  readonly startedAtWall: string;
  readonly card?: Partial<Card>;
  readonly more?: Partial<NewRun>;
  /** So much warmer throughout than the afternoon was, °C. */
  readonly byC?: number;
  /** Ended after so many minutes; else after all of them. */
  readonly min?: number;
}

/** All of them are on disk when it resolves. */
export async function keepRuns(store: Store, runs: readonly KeptRun[]): Promise<void> {
  for (const { run, startedAtWall, card, more, byC = 0, min = MIN } of runs) {
    const made = { run, bowl: 'bowl-1', header: HEADER, simulated: false, startedAtMs: msAt(0), source: 'made up' };
    store.beginRun({ ...made, startedAtWall, ...more });
    appendAfternoon(store, run, byC, min);
    store.endRun(run, msAt(min));
    if (card !== undefined) store.changeCard(run, { writtenAtWall: startedAtWall, by: 'Ana', change: card });
  }
  await store.flush();
}

function appendAfternoon(store: Store, run: string, byC: number, min: number): void {
  const warmer = (tempC: number): number => Math.round((tempC + byC) * 100) / 100;
  const events = eventsUpTo(min, [{ kind: 'run-ended', by: 'hand' }]).map((event): RunEvent => {
    // An alarm's extreme is on the curve: told of another one, the curve would jump there.
    if (event.kind !== 'alarm-cleared' || event.extremeC === null) return event;
    return { ...event, extremeC: warmer(event.extremeC) };
  });
  for (const [atMs, valueC, , estimateC] of AFTERNOON.filter(([each]) => each <= msAt(min))) {
    const due = events.findIndex((event) => event.atMs > atMs);
    const told = events.splice(0, due < 0 ? events.length : due);
    store.append(run, {
      input: { atMs, source: 'made up', kind: 'reading', valuesC: { chocolate: warmer(valueC) } },
      events: told,
      readings: [
        { atMs, role: 'chocolate', valueC: warmer(valueC), quality: 'good', estimateC: warmer(estimateC ?? valueC) },
      ],
    });
  }
}
