/** How the temper stands, or stood when the run ended: a word beside the number. Always our estimate, never a promise. */
import type { View } from '../../server/core/show/view.ts';
import { standingName } from '../words/standing.ts';
import { StandingIcon } from './icons.tsx';

export interface StandingLineProps {
  readonly view: View;
  /** False while the number is not live: then nothing is claimed. */
  readonly isKnown: boolean;
  /** Asks why. Absent: the word can't be asked, it only stands there. */
  readonly onAsk?: (() => void) | undefined;
}

export function StandingLine({ view, isKnown, onAsk }: StandingLineProps) {
  const isOver = view.ended !== null;
  const standing = isKnown || isOver ? (view.standing?.standing ?? null) : null;
  const name = standingName(standing, isOver);
  const icon = <StandingIcon standing={standing} />;
  const look = `standing ${isOver ? 'standing-over' : ''}`;
  if (onAsk === undefined) {
    return (
      <p class={look}>
        {icon}
        {name}
      </p>
    );
  }
  return (
    <button type="button" class={`${look} standing-ask`} aria-haspopup="dialog" onClick={onAsk}>
      {icon}
      <span class="standing-word">{name}</span>
    </button>
  );
}
