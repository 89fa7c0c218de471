/** What somebody wrote, sent to be kept: one press at a time, and why it was not kept, so that the form stays until it was. */
import { useRef, useState } from 'preact/hooks';

/** Gives why it was not kept; null: it was. */
export type Keep<What extends readonly unknown[]> = (...what: What) => Promise<string | null>;

/** A press while one is still on its way does nothing. */
export function useKeeping<What extends readonly unknown[]>(
  send: Keep<What>,
): readonly [trouble: string | null, keep: (...what: What) => void] {
  const [trouble, setTrouble] = useState<string | null>(null);
  const isSent = useRef(false);
  const keep = async (...what: What): Promise<void> => {
    if (isSent.current) return;
    isSent.current = true;
    setTrouble(await send(...what));
    isSent.current = false;
  };
  return [trouble, (...what) => void keep(...what)];
}
