/** A sheet over the page: comes, is used, goes. The dialog element keeps focus inside and lets Escape close it. */
import type { ComponentChildren } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import { Button } from './button.tsx';

export interface SheetProps {
  readonly title: string;
  readonly onClose: () => void;
  readonly children: ComponentChildren;
}

export function Sheet({ title, onClose, children }: SheetProps) {
  const dialog = useRef<HTMLDialogElement>(null);
  useEffect(() => {
    const shown = dialog.current;
    shown?.showModal();
    return () => shown?.close();
  }, []);
  return (
    <dialog class="sheet" ref={dialog} onCancel={onClose} aria-label={title}>
      <header class="sheet-head">
        <h2>{title}</h2>
        <Button onPress={onClose} sign="close">
          Close
        </Button>
      </header>
      {children}
    </dialog>
  );
}
