/** This moment as the page shows it: the newest value with its age going on between messages, and whether it may look live. */
import type { Moment } from './words/sentence.ts';
import type { Unsure } from './words/way.ts';
import type { Mark as RoadMark } from './road/model.ts';
import type { Mark } from '../server/core/show/view.ts';
import type { NowMessage } from '../server/core/show/wire.ts';
import type { LiveState } from './live.ts';
import { isRateUnknown } from './way-form.ts';
import { ACT_NAME, ALARM_NAME, withTags } from './words/names.ts';

export const NO_MOMENT: Moment = {
  atMs: 0,
  reading: null,
  stale: true,
  probeOutSinceMs: null,
  estimate: null,
  fanIfLeft: [],
  dwellLeftS: null,
  unsure: null,
};

/** A probe that has come back is not believed ahead of itself for so long, ms (ours: its lag, and a trend to learn anew). */
const SETTLES_MS = 30_000;

/**
 * `atMs`: feed clock now, as far as the page can tell. Before the first value that is the end of what is known. Where the server holds no reading any
 * more, as of a thermometer that was taken away, the last one of the run stands.
 */
export function momentOf(live: LiveState, atMs: number): Moment {
  const { now, curve, view } = live;
  const last = curve.last();
  if (now !== null) {
    const reading = now.reading ?? last;
    return { ...now, reading, atMs, unsure: unsureOf(live, atMs), isRateUnknown: isRateUnknown(now.estimate, now.fan) };
  }
  return { ...NO_MOMENT, reading: last, atMs: last?.atMs ?? view.info?.startedAtMs ?? 0 };
}

function unsureOf({ now, probeBackAtMs }: LiveState, atMs: number): Unsure | null {
  if (now !== null && now.mixing !== null && now.mixing !== 'stirred') return now.mixing;
  return probeBackAtMs !== null && atMs - probeBackAtMs < SETTLES_MS ? 'just-back' : null;
}

/** No old number looks live: not a stale one, not one from outside the bowl, not on a screen that has lost the server. */
export function isLiveNumber(live: LiveState): boolean {
  const { now, connection } = live;
  return connection === 'open' && now !== null && now.reading !== null && !now.stale && now.probeOutSinceMs === null;
}

/** The ceiling that chocolate nobody has named is over; null on a screen that has lost the server, which no longer knows. */
export function carefulOf({ now, connection }: LiveState): NowMessage['careful'] {
  return connection === 'open' ? (now?.careful ?? null) : null;
}

/** Marks with their words, as the road draws them. */
export function roadMarks(marks: readonly Mark[]): readonly RoadMark[] {
  return marks.map((mark) => {
    const { kind, atMs } = mark;
    const drawn = { kind, atMs, text: markWords(mark) };
    return mark.kind === 'note' && mark.untilMs !== undefined ? { ...drawn, untilMs: mark.untilMs } : drawn;
  });
}

export function markWords(mark: Mark): string {
  switch (mark.kind) {
    case 'note':
      return withTags(mark.text, mark.tags);
    case 'act':
      return ACT_NAME[mark.act];
    case 'alarm':
      return ALARM_NAME[mark.alarm];
  }
}

/** By the clock of this screen; empty before the first word. */
export function lastTrueOf(lastTrue: Date | null): string {
  if (lastTrue === null) return '';
  return `${String(lastTrue.getHours()).padStart(2, '0')}:${String(lastTrue.getMinutes()).padStart(2, '0')}`;
}
