/** Asks once somebody has stopped typing; only the newest question's answer counts. */
import { useEffect, useRef } from 'preact/hooks';

/** After the last key, ms (ours: shorter than a look up from the keys). */
const AFTER_MS = 250;

/** `ask` answers with what is to be done then; null forgets what was asked. */
export function useLater<Value>(ask: (value: Value) => Promise<() => void>): (value: Value | null) => void {
  const timer = useRef(0);
  const newest = useRef(0);
  useEffect(
    () => () => {
      window.clearTimeout(timer.current);
      newest.current += 1;
    },
    [],
  );
  return (value) => {
    window.clearTimeout(timer.current);
    const mine = ++newest.current;
    if (value === null) return;
    timer.current = window.setTimeout(() => {
      void ask(value).then((act) => mine === newest.current && act());
    }, AFTER_MS);
  };
}
