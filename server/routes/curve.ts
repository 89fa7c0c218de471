/** A stretch of a stored run's curve: every reading where it is short, columns where it is long. */
import { wholeFromText } from '../core/record/shape.ts';
import { wireReadings } from '../session/told.ts';
import type { Stretch } from '../store/records.ts';
import type { Store } from '../store/store.ts';
import { curveShape } from './answers.ts';
import { type Asked, json, type Route } from './route.ts';
import { CURVE_COLUMNS, ofRun } from './runs.ts';

/** Most columns that are given (ours: finer than any screen). */
const COLUMNS_MOST = 10_000;
/** The longest stretch of which every reading is given, ms (ours: 6,000 of them at ten a second, 200 KB). */
const EVERY_READING_MS = 600_000;

/** A run that was brought in may have begun before the zero of its clock. */
const moment = wholeFromText(Number.MIN_SAFE_INTEGER, Number.MAX_SAFE_INTEGER);

export function curveRoutes({ store }: { readonly store: Store }): Route[] {
  return [
    {
      method: 'get',
      path: '/runs/{run}/curve',
      does: 'The curve of a run or of a stretch of it, feed clock: every reading of up to ten minutes, columns of more.',
      query: { fromMs: moment, toMs: moment, columns: wholeFromText(1, COLUMNS_MOST) },
      gives: { json: curveShape.schema },
      answer: ofRun(store, ({ run }, { query }) => {
        const stretch = stretchOf(query);
        if (stretch.toMs - stretch.fromMs <= EVERY_READING_MS)
          return json({ readings: wireReadings(store.readingsOf(run, stretch)), tiles: [] });
        return json({ readings: null, tiles: store.tilesOf(run, Number(query['columns'] ?? CURVE_COLUMNS), stretch) });
      }),
    },
  ];
}

function stretchOf({ fromMs, toMs }: Asked['query']): Stretch {
  return { fromMs: Number(fromMs ?? -Infinity), toMs: Number(toMs ?? Infinity) };
}
