/** Has the viewer's keys listened for while a part of the page stands. */
import { useLayoutEffect, useRef } from 'preact/hooks';
import { useCovered } from './controls/beneath.tsx';
import type { KeyAction } from './keys.ts';
import { fetchAtHand } from './part.tsx';

export type KeyHandlers = Readonly<Partial<Record<KeyAction, (() => void) | undefined>>>;

/** `isInSheet`: these handlers are of an open sheet; all others rest while one is open. */
export function useKeys(handlers: KeyHandlers, isInSheet = false): void {
  const newest = useRef(handlers);
  newest.current = handlers;
  const isCovered = useCovered();
  useLayoutEffect(() => {
    if (isCovered) return undefined;
    let isOver = false;
    let stop = (): void => {
      isOver = true;
    };
    void fetchAtHand().then(
      ({ listenForKeys }) => {
        if (!isOver) stop = listenForKeys(() => newest.current, isInSheet);
      },
      // Where it can't be had, buttons say so; nothing can be asked then either.
      () => undefined,
    );
    return () => stop();
  }, [isInSheet, isCovered]);
}
