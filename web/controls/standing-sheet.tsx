/** Why the temper stands as it does, for whoever asks, and what to do: a small sheet. */
import type { Act } from '../../server/core/record/command.ts';
import type { Profile } from '../../server/core/record/profile.ts';
import type { View } from '../../server/core/show/view.ts';
import { STRIPS } from '../words/page.ts';
import type { Moment } from '../words/sentence.ts';
import { STANDING_IS_A_GUESS, standingWords } from '../words/standing-why.ts';
import { Button } from './button.tsx';
import { StandingIcon } from './icons.tsx';
import { Sheet } from './sheet.tsx';

export interface StandingSheetProps {
  readonly view: View;
  readonly isKnown: boolean;
  readonly moment: Moment;
  readonly profile: Profile;
  /** Notes what the strip showed. Absent: a run that is over, or a screen that has lost the server; then there is nothing left to do. */
  readonly onAct?: ((act: Act) => void) | undefined;
  readonly onClose: () => void;
}

export function StandingSheet({ view, isKnown, moment, profile, onAct, onClose }: StandingSheetProps) {
  const words = standingWords(view, moment, profile, isKnown);
  const isTold = isKnown || view.ended !== null;
  const mark = <StandingIcon standing={isTold ? (view.standing?.standing ?? null) : null} />;
  return (
    <Sheet title={words.name} mark={mark} onClose={onClose} isSmall>
      <p class="standing-why">{words.why}</p>
      {onAct !== undefined && <p class="standing-next">{words.next}</p>}
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
