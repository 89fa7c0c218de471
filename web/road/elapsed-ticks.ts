/** Times of the run along the foot of a map: elapsed, at whole minutes. */
import { STEPS_MIN, tick } from './ticks.ts';
import type { Tick } from './ticks.ts';
import type { TimeSpan } from './window.ts';
import { elapsed } from '../words/elapsed.ts';

const MINUTE_MS = 60_000;

/** Elapsed h:mm since `startedAtMs`, at whole minutes. */
export function elapsedTicks(view: TimeSpan, startedAtMs: number, most: number): Tick[] {
  const spanMin = (view.toMs - view.fromMs) / MINUTE_MS;
  const stepMs = (STEPS_MIN.find((step) => spanMin / step <= most) ?? STEPS_MIN.at(-1)!) * MINUTE_MS;
  const firstMs = Math.max(0, Math.ceil((view.fromMs - startedAtMs) / stepMs) * stepMs);
  const ticks: Tick[] = [];
  for (let ms = firstMs; ms <= view.toMs - startedAtMs; ms += stepMs)
    ticks.push(tick(startedAtMs + ms, elapsed(ms), 1));
  return ticks;
}
