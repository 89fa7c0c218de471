/** A sheet over the page: comes, is used, goes. The dialog element keeps focus inside and lets Escape close it. */
import type { ComponentChildren } from 'preact';
import { useLayoutEffect, useRef } from 'preact/hooks';
import { useCovered } from './beneath.tsx';
import { Button } from './button.tsx';
import { MORE_SIGN } from './more-signs.ts';
import { ELSEWHERE } from '../words/elsewhere.ts';

export interface SheetProps {
  readonly title: string;
  readonly onClose: () => void;
  /** Takes the foot of the page only, so that sentence and number stay in sight. */
  readonly isSmall?: boolean;
  /** A mark that stands before the title. */
  readonly mark?: ComponentChildren;
  readonly children: ComponentChildren;
}

export function Sheet({ title, onClose, isSmall = false, mark, children }: SheetProps) {
  const dialog = useRef<HTMLDialogElement>(null);
  const isCovered = useCovered();
  useLayoutEffect(() => {
    if (isCovered) return undefined;
    const shown = dialog.current;
    const before = document.activeElement;
    shown?.showModal();
    // A dialog that is taken away gives no focus back by itself.
    return () => {
      shown?.close();
      if (before instanceof HTMLElement) before.focus();
    };
  }, [isCovered]);
  return (
    <dialog class={isSmall ? 'sheet sheet-small' : 'sheet'} ref={dialog} onCancel={onClose} aria-label={title}>
      <header class="sheet-head">
        {mark}
        <h2>{title}</h2>
        <Button onPress={onClose} sign={MORE_SIGN.close}>
          {ELSEWHERE.close}
        </Button>
      </header>
      {children}
    </dialog>
  );
}
