/** How the temper stands: a word beside the number, and a small sheet that says why and what to do. Always our estimate, never a promise. */
import type { Act } from '../../server/core/record/command.ts';
import type { View } from '../../server/core/show/view.ts';
import { unbroken } from '../words/measure.ts';
import { STANDING_IS_A_GUESS, standingName } from '../words/standing.ts';
import type { StandingWords } from '../words/standing.ts';
import { Button } from './button.tsx';
import { StandingIcon } from './icons.tsx';
import { Sheet } from './sheet.tsx';
import { STRIPS } from '../words/page.ts';

export interface StandingLineProps {
  readonly view: View;
  /** False while the number is not live: then nothing is claimed. */
  readonly isKnown: boolean;
  /** Asks why. Absent: the word can't be asked, it only stands there. */
  readonly onAsk?: (() => void) | undefined;
}

export function StandingLine({ view, isKnown, onAsk }: StandingLineProps) {
  const standing = isKnown ? (view.standing?.standing ?? null) : null;
  const icon = <StandingIcon standing={standing} />;
  if (onAsk === undefined) {
    return (
      <p class="standing">
        {icon}
        {standingName(standing)}
      </p>
    );
  }
  return (
    <button type="button" class="standing standing-ask" aria-haspopup="dialog" onClick={onAsk}>
      {icon}
      <span class="standing-word">{standingName(standing)}</span>
    </button>
  );
}

export interface StandingSheetProps {
  readonly view: View;
  readonly isKnown: boolean;
  readonly words: StandingWords;
  /** Notes what the strip showed. Absent: a run that is over, or a screen that has lost the server; then there is nothing left to do. */
  readonly onAct?: ((act: Act) => void) | undefined;
  readonly onClose: () => void;
}

export function StandingSheet({ view, isKnown, words, onAct, onClose }: StandingSheetProps) {
  const mark = <StandingIcon standing={isKnown ? (view.standing?.standing ?? null) : null} />;
  return (
    <Sheet title={words.name} mark={mark} onClose={onClose} isSmall>
      <p class="standing-why">{unbroken(words.why)}</p>
      {onAct !== undefined && <p class="standing-next">{unbroken(words.next)}</p>}
      {onAct !== undefined && words.isTestable && (
        <div class="sheet-buttons standing-tests">
          <Button onPress={() => onAct('strip-test-good')}>{STRIPS.testGood}</Button>
          <Button onPress={() => onAct('strip-test-bad')}>{STRIPS.testBad}</Button>
        </div>
      )}
      <p class="quiet">{STANDING_IS_A_GUESS}</p>
    </Sheet>
  );
}
