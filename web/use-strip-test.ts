/** The strip that lies there, as this viewer's browser keeps it: outlives a reload, belongs to one run. */
import { useState } from 'preact/hooks';
import { keep, kept } from './kept.ts';
import { isStripTestKept } from './strip-test.ts';
import type { StripTest } from './strip-test.ts';

const KEPT = 'strip-test';

/** null: none lies there. */
export function useStripTest(run: string): [StripTest | null, (test: StripTest | null) => void] {
  const [test, setTest] = useState(() => kept<StripTest | null>(KEPT, isStripTestKept, null));
  const change = (next: StripTest | null): void => {
    keep(KEPT, next);
    setTest(next);
  };
  return [test?.run === run ? test : null, change];
}
