/** What an alarm stands over: kept as it was, out of sight and out of reach, until the alarm was seen. */
import { createContext } from 'preact';
import type { ComponentChildren } from 'preact';
import { useContext, useLayoutEffect, useRef } from 'preact/hooks';

const Covered = createContext(false);

/** Whether an alarm stands over this part of the page: then no key is meant for it, and no sheet of it stands open. */
export function useCovered(): boolean {
  return useContext(Covered);
}

interface BeneathProps {
  readonly isCovered: boolean;
  readonly children: ComponentChildren;
}

export function Beneath({ isCovered, children }: BeneathProps) {
  const was = useRef(false);
  const left = useRef<{ readonly focus: Element | null; readonly top: number } | null>(null);
  // Before it is hidden: what is hidden has neither focus nor a place it was scrolled to.
  if (isCovered && !was.current) left.current = { focus: document.activeElement, top: window.scrollY };
  was.current = isCovered;
  useLayoutEffect(() => {
    if (isCovered || left.current === null) return;
    const { focus, top } = left.current;
    if (focus instanceof HTMLElement) focus.focus({ preventScroll: true });
    window.scrollTo(0, top);
  }, [isCovered]);
  return (
    <Covered.Provider value={isCovered}>
      <div class="beneath" hidden={isCovered}>
        {children}
      </div>
    </Covered.Provider>
  );
}
