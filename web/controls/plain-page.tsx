/** A page beside the bowl that is made of words: the sentence, what there is, and the few buttons low on it. */
import type { ComponentChildren } from 'preact';
import { PageHead } from './page-head.tsx';
import { ELSEWHERE } from '../words/elsewhere.ts';

export interface PlainPageProps {
  readonly act: string;
  readonly detail: string;
  /** What it is about is still on its way. */
  readonly isComing?: boolean;
  /** Stand before the way to the bowl. */
  readonly controls?: ComponentChildren;
  readonly children?: ComponentChildren;
}

export function PlainPage({ act, detail, isComing = false, controls, children }: PlainPageProps) {
  return (
    <main class="runs plain" aria-busy={isComing}>
      <PageHead act={act} detail={detail} />
      <div class="plain-body">{children}</div>
      <footer class="controls">
        {controls}
        <Link to="#/" word={ELSEWHERE.toBowl} />
      </footer>
    </main>
  );
}

export function Link({
  to,
  word,
  isSolid = false,
  isLow = false,
}: {
  readonly to: string;
  readonly word: string;
  readonly isSolid?: boolean;
  /** As high as the buttons that stand in a row of small ones. */
  readonly isLow?: boolean;
}) {
  return (
    <a class={`button ${isSolid ? 'button-solid' : 'button-plain'} ${isLow ? 'button-low' : ''}`} href={to}>
      <span class="button-word">{word}</span>
    </a>
  );
}
