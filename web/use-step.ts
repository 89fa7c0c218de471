/** Where the focus goes when one step of a page gives way to the next: whoever walks by keys, or listens, is not thrown back to its top. */
import { useLayoutEffect, useRef } from 'preact/hooks';
import type { RefObject } from 'preact';

/**
 * The element the steps stand in. With each new step that took away what had the focus, it goes on to the first field there, else to the
 * first button.
 */
export function useStep<Host extends HTMLElement>(step: string): RefObject<Host | null> {
  const host = useRef<Host>(null);
  useStepTo(step, () => host.current?.querySelector<HTMLElement>(FIELD) ?? host.current?.querySelector('button, a'));
  return host;
}

const FIELD = 'input:not([hidden]), textarea, select';

/** The same where it goes to the sentence of the page, which says what is to be done now. */
export function useStepOfPage(step: string): void {
  useStepTo(step, () => {
    const heading = document.querySelector('h1');
    if (heading !== null) heading.tabIndex = -1;
    return heading;
  });
}

function useStepTo(step: string, find: () => HTMLElement | null | undefined): void {
  const before = useRef(step);
  useLayoutEffect(() => {
    if (before.current === step) return;
    before.current = step;
    if (document.activeElement === null || document.activeElement === document.body) find()?.focus();
  }, [step]);
}
