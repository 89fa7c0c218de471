/** Whether a reading costs more late in a run than early: the engine and all that is told of it, after twelve hours against after one minute. */
import { against } from './against.ts';
import type { Figure } from './figures.ts';
import { GoingRun, ROUND } from './going-run.ts';

const EVERY_MS = 100;
const EARLY_LINES = 60_000 / EVERY_MS;
const LATE_LINES = (12 * 3_600_000) / EVERY_MS;
const COUNTED = 10 * ROUND;
const LEAST = 0.95;

export async function measureLength(rounds: number): Promise<readonly Figure[]> {
  let sum = 0;
  const heard = (run: GoingRun): number => {
    sum = 0;
    run.hear(COUNTED);
    return sum;
  };
  const begun = (): GoingRun =>
    new GoingRun(EVERY_MS, (message) => {
      if (message.kind === 'news') for (const [, valueC] of message.readings) sum += valueC;
    });
  const late = begun();
  late.hear(LATE_LINES);
  let early = begun();
  return against(
    {
      name: 'a reading after 12 h, ten a second, against one after 1 min',
      count: COUNTED,
      each: 'reading',
      ready: () => {
        early = begun();
        early.hear(EARLY_LINES);
      },
      floor: () => heard(early),
      ours: () => heard(late),
      least: LEAST,
    },
    rounds,
  );
}
