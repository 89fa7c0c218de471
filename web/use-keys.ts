/** Has the viewer's keys listened for while a part of the page stands. */
import { useLayoutEffect, useRef } from 'preact/hooks';
import { useCovered } from './controls/beneath.tsx';
import { listenForKeys } from './key-presses.ts';
import type { KeyAction } from './keys.ts';

export type KeyHandlers = Readonly<Partial<Record<KeyAction, (() => void) | undefined>>>;

/** `isInSheet`: these handlers are of an open sheet; all others rest while one is open. */
export function useKeys(handlers: KeyHandlers, isInSheet = false): void {
  const newest = useRef(handlers);
  newest.current = handlers;
  const isCovered = useCovered();
  useLayoutEffect(
    () => (isCovered ? undefined : listenForKeys(() => newest.current, isInSheet)),
    [isInSheet, isCovered],
  );
}
