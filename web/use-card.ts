/** The card of a run as a part of the page holds it: fetched, fetched anew when it was changed elsewhere, written on; and the clock it is counted by. */
import { useEffect, useState } from 'preact/hooks';
import type { Card } from '../server/core/record/card.ts';
import { fetchCard, postCard } from './cards.ts';
import type { WholeCard } from './cards.ts';
import { onRunChanged } from './run-changed.ts';

export interface HeldCard extends WholeCard {
  /** How far the server's clock is ahead of this screen's, ms: all screens count by the server's. */
  readonly aheadMs: number;
}

export interface CardHold {
  /** null: not here yet, or not to be had. */
  readonly held: HeldCard | null;
  /** Why the last thing asked could not be done. */
  readonly trouble: string | null;
  /** True when it is kept. */
  readonly write: (change: Partial<Card>, by: string | null) => Promise<boolean>;
}

export function useCard(run: string): CardHold {
  const [held, setHeld] = useState<HeldCard | null>(null);
  const [trouble, setTrouble] = useState<string | null>(null);
  const take = (answer: Awaited<ReturnType<typeof fetchCard>>): boolean => {
    setTrouble(answer.ok ? null : answer.why);
    if (answer.ok) setHeld({ ...answer.value, aheadMs: Date.parse(answer.value.atWall) - Date.now() });
    return answer.ok;
  };
  useEffect(() => {
    let isShown = true;
    const ask = (): void => void fetchCard(run).then((answer) => isShown && take(answer));
    setHeld(null);
    ask();
    const stop = onRunChanged(run, ask);
    return () => {
      isShown = false;
      stop();
    };
  }, [run]);
  return { held, trouble, write: (change, by) => postCard(run, change, by).then(take) };
}

/** Counts on this often while something is waited for, ms: the pace of a countdown in seconds. */
const TICK_MS = 1_000;

/** The server's clock, wall ms, told again every second. */
export function useServerClock(held: HeldCard | null): number {
  const [, redraw] = useState(0);
  useEffect(() => {
    const timer = window.setInterval(() => redraw((n) => n + 1), TICK_MS);
    return () => window.clearInterval(timer);
  }, []);
  return Date.now() + (held?.aheadMs ?? 0);
}
