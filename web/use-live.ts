/** Redraws a component when the bowl's state changes, and once a second so that ages count up. */
import { useLayoutEffect, useState } from 'preact/hooks';
import type { Live, LiveState } from './live.ts';

/** Ages are counted up this often between messages, ms. */
const AGE_EVERY_MS = 1_000;

export function useLive(live: Live): LiveState {
  const [, redraw] = useState(0);
  useLayoutEffect(() => {
    const again = (): void => redraw((n) => n + 1);
    const unsubscribe = live.subscribe(again);
    const timer = window.setInterval(again, AGE_EVERY_MS);
    return () => {
      unsubscribe();
      window.clearInterval(timer);
    };
  }, [live]);
  return live.state();
}
