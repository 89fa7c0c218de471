/** The way to the thermometer's page: to check it, or to see how it was. */
import type { CheckInfo } from '../../server/core/show/wire.ts';
import { CHECK_LINK } from '../words/belief.ts';

export interface CheckLinkProps {
  /** null: it is unchecked. */
  readonly check: CheckInfo | null;
  readonly onGo?: () => void;
}

export function CheckLink({ check, onGo }: CheckLinkProps) {
  const isWanted = check === null || check.isOld;
  return (
    <a class="button button-plain button-low check-link" href="#/check" onClick={onGo}>
      <span class="button-word">{isWanted ? CHECK_LINK.check : CHECK_LINK.again}</span>
    </a>
  );
}
