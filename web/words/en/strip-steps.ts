/** What the bar of the strip test says: to begin it, to wait for it, to look at it. Pure. */
import type { StripLook, StripTest } from '../../strip-test.ts';
import { countdown } from '../measure.ts';

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
