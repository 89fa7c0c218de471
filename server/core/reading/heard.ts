/** The lines looked at together while it is not sure how a device writes: the first ones of them, and the newest. */

/** A line at its moment. */
export interface HeardLine {
  readonly atMs: number;
  readonly text: string;
}

/** Ours: of a device that babbles both ends of three seconds, of any other some minutes. */
const WINDOW_MOST = 64;
const OLDEST_KEPT = 16;
/** As long as the first lines are younger than this, they stay: what was enough lines must get to be long enough, ms. */
const SPAN_WANTED_MS = 25_000;
/** Nothing older is looked at, ms (ours: five lines of a device that speaks once in two minutes). */
const OLDEST_MS = 600_000;

export function grown(heard: readonly HeardLine[], line: HeardLine): readonly HeardLine[] {
  const young = heard.filter(({ atMs }) => line.atMs - atMs <= OLDEST_MS);
  if (young.length < WINDOW_MOST) return [...young, line];
  const isLong = line.atMs - young[1]!.atMs >= SPAN_WANTED_MS;
  const dropped = isLong ? 0 : OLDEST_KEPT;
  return [...young.slice(0, dropped), ...young.slice(dropped + 1), line];
}
