/** The list of runs as it is shown: what was had of it stays, whatever fails later, and whoever comes back finds it as they left it. */
import { useEffect, useLayoutEffect, useRef, useState } from 'preact/hooks';
import { keep, kept } from '../../kept.ts';
import { onRunChanged } from '../../run-changed.ts';
import { EVERY_RUN, fetchRuns, isWish, RUNS_PER_PAGE, withMore } from '../../run-list.ts';
import type { RunLines, RunWish } from '../../run-list.ts';

/** A word is looked for when no key was struck for so long, ms (ours). */
const TYPED_MS = 200;

const KEPT = 'runs';
/** Another day one begins with all runs. */
const whileOpen = (): Storage => sessionStorage;

/** How the list was left. */
interface Left {
  readonly wish: RunWish;
  /** How many runs were shown, and how far down it was scrolled, CSS px. */
  readonly count: number;
  readonly top: number;
}

const NOT_YET: Left = { wish: EVERY_RUN, count: RUNS_PER_PAGE, top: 0 };

interface Shown extends RunLines {
  /** What they fit; until others come, not what is looked for now. */
  readonly wish: RunWish;
}

export interface Lines {
  readonly wish: RunWish;
  readonly onWish: (part: Partial<RunWish>) => void;
  /** null: nothing could be had yet. */
  readonly shown: Shown | null;
  /** Why what is shown is not what was asked for last. */
  readonly trouble: string | null;
  readonly more: () => void;
  readonly again: () => void;
}

/** Asks for the runs by itself: when another wish is made, and when one of them has changed. */
export function useLines(): Lines {
  const [left] = useState(() => kept(KEPT, isLeft, NOT_YET, whileOpen));
  const [wish, setWish] = useState(left.wish);
  const [shown, setShown] = useState<Shown | null>(null);
  const [trouble, setTrouble] = useState<string | null>(null);
  const newest = useRef(0);
  const settle = async (asked: ReturnType<typeof fetchRuns>, joined: (lines: RunLines) => RunLines): Promise<void> => {
    const number = ++newest.current;
    const answer = await asked;
    // Whatever was asked for meanwhile is what is wanted.
    if (number !== newest.current) return;
    setTrouble(answer.ok ? null : answer.why);
    if (answer.ok) setShown({ wish, ...joined(answer.value) });
    // What fits another wish answers nothing.
    else setShown((now) => (now?.wish === wish ? now : null));
  };
  const isFirst = shown === null;
  const count = isFirst ? left.count : shown.wish === wish ? shown.runs.length : 0;
  const newestCount = useRef(count);
  newestCount.current = count;
  const again = (): void =>
    void settle(fetchRuns(wish, 0, Math.max(RUNS_PER_PAGE, newestCount.current)), (lines) => lines);
  const more = (): void => {
    if (shown?.wish === wish)
      void settle(fetchRuns(wish, shown.runs.length, RUNS_PER_PAGE), (lines) => withMore(shown, lines));
  };
  useEffect(() => {
    const timer = window.setTimeout(again, isFirst ? 0 : TYPED_MS);
    const stop = onRunChanged(null, again);
    return () => {
      window.clearTimeout(timer);
      stop();
    };
  }, [wish]);
  usePlace(left.top, isFirst, (top) => keep(KEPT, { wish, count, top }, whileOpen));
  return { wish, onWish: (part) => setWish((now) => ({ ...now, ...part })), shown, trouble, more, again };
}

/** Goes to where the list was left as soon as it is there, and has its place kept when the page goes. */
function usePlace(top: number, isComing: boolean, onLeave: (top: number) => void): void {
  const newest = useRef(onLeave);
  newest.current = onLeave;
  useLayoutEffect(() => {
    if (!isComing) window.scrollTo(0, top);
  }, [isComing]);
  useLayoutEffect(() => {
    const leave = (): void => newest.current(window.scrollY);
    window.addEventListener('pagehide', leave);
    return () => {
      window.removeEventListener('pagehide', leave);
      leave();
    };
  }, []);
}

function isLeft(value: unknown): value is Left {
  if (typeof value !== 'object' || value === null) return false;
  const { wish, count, top } = value as Readonly<Record<keyof Left, unknown>>;
  return isWish(wish) && Number.isInteger(count) && typeof top === 'number';
}
