/** A check that is going: asked for once a second while somebody looks on, and left when they go. */
import { useEffect, useRef, useState } from 'preact/hooks';
import type { CheckAsked, CheckStands } from '../server/core/check/told.ts';
import { askCheck, leaveCheck } from './probe.ts';

/** ms. Ours: as often as most thermometers speak. */
const ASK_EVERY_MS = 1000;

export interface Check {
  /** The newest that came; null: nothing yet. */
  readonly stands: CheckStands | null;
  readonly trouble: string | null;
}

/** `isGoing`: there is something to ask; `asked`: what is asked the next time. */
export function useCheck(bowl: string, isGoing: boolean, asked: CheckAsked & { readonly isWatched: boolean }): Check {
  const [check, setCheck] = useState<Check>({ stands: null, trouble: null });
  const next = useRef(asked);
  next.current = asked;
  const { isWatched } = asked;
  useEffect(() => {
    if (!isGoing) return setCheck({ stands: null, trouble: null });
    let timer: number | undefined;
    let isLeft = false;
    const look = async (): Promise<void> => {
      const answer = await askCheck(bowl, next.current);
      if (isLeft) return;
      setCheck((was) => (answer.ok ? { stands: answer.value, trouble: null } : { ...was, trouble: answer.why }));
      timer = window.setTimeout(() => void look(), ASK_EVERY_MS);
    };
    void look();
    return () => {
      isLeft = true;
      window.clearTimeout(timer);
      if (isWatched) void leaveCheck(bowl);
    };
  }, [bowl, isGoing, isWatched]);
  return check;
}
