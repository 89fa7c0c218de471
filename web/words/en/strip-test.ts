/** What the strip test says as a step: to begin it, to wait for it, to look at it; and when it is due again. Pure. */
import type { View } from '../../../server/core/show/view.ts';
import { EVERY_MS, lastTestMs, mayDip, stripStage } from '../../strip-test.ts';
import type { StripLook, StripTest } from '../../strip-test.ts';
import { countdown, span } from '../measure.ts';

export const STRIP_TEST = {
  name: 'Strip test',
  words: 'Strip test: dip a knife tip, lay it down.',
  testNow: 'Test now',
  lookNow: 'Look now',
  giveUp: 'Give it up',
  howSet: 'How did it set?',
} as const;

/** What is seen on the strip, in the order of the buttons. */
export const LOOK_NAME: Readonly<Record<StripLook, string>> = {
  glossy: 'Sets glossy',
  streaks: 'Streaks',
  tacky: 'Still tacky',
};

/** "The strip sets. Look in 3:20." */
export function waitingWords(test: StripTest, atMs: number): string {
  const first = test.isSecondLook ? 'Still tacky.' : 'The strip sets.';
  return `${first} Look in ${countdown((test.lookAtMs - atMs) / 1000)}.`;
}

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
