/** What the sentence says of a strip test: to wait for the strip, to look at it; and when one is due again. Pure. */
import type { View } from '../../../server/core/show/view.ts';
import { EVERY_MS, lastTestMs, mayDip, stripStage } from '../../strip-test.ts';
import type { StripTest } from '../../strip-test.ts';
import { span } from '../measure.ts';

/** The sentence while a strip lies there: nothing while it may be dipped meanwhile, else to wait; and in time, to look. */
export function stripSentence(test: StripTest, atMs: number, mayDip: boolean): { act: string; detail: string } | null {
  if (stripStage(test, atMs) === 'look') {
    const gone = span((atMs - test.laidAtMs) / 1000);
    return { act: 'Look at the strip.', detail: `${gone} gone. Set, even, no streaks?` };
  }
  if (mayDip) return null;
  return { act: 'Wait for the strip.', detail: 'Stir meanwhile; keep it in the band.' };
}

/** When the strip test is due again, from the last one noted in this phase; nothing where it is wanted before anything is dipped. */
export function testLines(view: View, atMs: number): readonly string[] {
  const lastMs = lastTestMs(view);
  if (lastMs === null || !mayDip(view)) return [];
  const sinceMs = atMs - lastMs;
  if (sinceMs < EVERY_MS) return [`Strip test again in ${span((EVERY_MS - sinceMs) / 1000)}.`];
  return ['Strip test again:', `${span(sinceMs / 1000)} since the last.`];
}
