/** The strip that lies there, and whether somebody at this screen looks at it before its time. */
import { useState } from 'preact/hooks';
import type { View } from '../server/core/show/view.ts';
import { stripLying } from './strip-test.ts';
import type { StripTest } from './strip-test.ts';

/** null: none lies there. The second part brings the look that is waited for forward to now. */
export function useStripTest(view: View, atMs: number): [StripTest | null, () => void] {
  const [early, setEarly] = useState<{ readonly look: string; readonly atMs: number } | null>(null);
  const lying = stripLying(view);
  if (lying === null) return [null, () => setEarly(null)];
  const look = `${lying.id} ${lying.isSecondLook}`;
  const lookAtMs = early?.look === look ? Math.min(early.atMs, lying.lookAtMs) : lying.lookAtMs;
  return [{ ...lying, lookAtMs }, () => setEarly({ look, atMs })];
}
