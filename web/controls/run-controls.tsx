/** The few large buttons low on the page of a run that goes on. */
import type { Phase } from '../../server/core/record/profile.ts';
import { firstDownIndex } from '../../server/core/show/course.ts';
import type { RunInfo } from '../../server/core/show/wire.ts';
import type { LiveState } from '../live.ts';
import type { Asks } from '../pages/bowl.tsx';
import { viewer } from '../viewer.ts';
import { LOCK } from '../words/hands.ts';
import { phaseName } from '../words/names.ts';
import { Button } from './button.tsx';
import { SIGN } from './icons.tsx';
import { atHand, OrMissing } from '../part.tsx';
import { BUTTONS } from '../words/buttons.ts';

const OtherControls = atHand((part) => part.OtherControls, OrMissing);

/** Where a run begins that the person starts by hand: tempered chocolate at the work, molten at the cooling, all else at the first. */
function firstPhase({ profile, condition }: RunInfo): Phase | undefined {
  const { phases } = profile;
  if (condition === 'tempered') return phases.findLast(({ heading }) => heading === 'hold') ?? phases[0];
  if (condition === 'melted') return phases[firstDownIndex(profile)] ?? phases[0];
  return phases[0];
}

export interface RunControlsProps {
  readonly state: LiveState;
  readonly info: RunInfo;
  readonly asks: Asks;
  readonly phase: Phase | undefined;
  readonly isLost: boolean;
  readonly isLocked: boolean;
  readonly isSoundOn: boolean;
  readonly isEnding: boolean;
  readonly onEnding: (isEnding: boolean) => void;
  readonly onLock: (isLocked: boolean) => void;
  readonly onNote: () => void;
  readonly onMore: () => void;
  readonly onNewRun: () => void;
}

export function RunControls(props: RunControlsProps) {
  const { state, isLocked, isEnding } = props;
  const isOther = state.view.ended !== null || state.watchesOnly || isLocked || isEnding || viewer().isFar;
  return isOther ? <OtherControls {...props} /> : <GoingControls {...props} />;
}

function GoingControls(props: RunControlsProps) {
  const { asks, info, phase, isLost, onEnding, isSoundOn } = props;
  const at = info.profile.phases.findIndex(({ id }) => id === phase?.id);
  const next = phase === undefined ? firstPhase(info) : info.profile.phases[at + 1];
  return (
    <footer class="controls">
      <Button onPress={props.onNote} sign={SIGN.note} look="solid" disabled={isLost}>
        {BUTTONS.noteIt}
      </Button>
      {next !== undefined && (
        <Button
          onPress={() => (phase === undefined ? asks.startAt(next.id) : asks.next())}
          sign={SIGN.next}
          signAt="end"
          disabled={isLost}
        >
          {phase === undefined ? BUTTONS.startNow : phaseName(next.id)}
        </Button>
      )}
      <Button
        onPress={() => onEnding(true)}
        sign={SIGN.end}
        disabled={isLost}
        class={next === undefined ? '' : 'on-wide'}
      >
        {BUTTONS.end}
      </Button>
      <Button onPress={() => props.onLock(true)} sign={SIGN.locked} class="far-side small-on-phone">
        {LOCK.lock}
      </Button>
      <Button onPress={asks.turnSound} sign={isSoundOn ? SIGN.soundOn : SIGN.soundOff} class="on-wide sound-switch">
        {isSoundOn ? BUTTONS.soundOn : BUTTONS.soundOff}
      </Button>
      <Button onPress={props.onMore} sign={SIGN.more} class="small-on-phone">
        {BUTTONS.more}
      </Button>
    </footer>
  );
}
