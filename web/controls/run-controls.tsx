/** The few large buttons low on the page of a run: while it goes, while it is locked or looked at from afar, and when it is over. */
import type { Phase } from '../../server/core/record/profile.ts';
import { firstDownIndex } from '../../server/core/show/course.ts';
import type { RunInfo } from '../../server/core/show/wire.ts';
import type { LiveState } from '../live.ts';
import type { Asks } from '../pages/bowl.tsx';
import { changeViewer, viewer } from '../viewer.ts';
import { LOCK, LOOKING_ON } from '../words/hands.ts';
import { phaseName } from '../words/names.ts';
import { SCREEN } from '../words/screen.ts';
import { Button } from './button.tsx';
import { fetchAtHand, laterPart } from '../part.tsx';
import { BUTTONS } from '../words/buttons.ts';

const LockBar = laterPart(() => fetchAtHand().then((part) => part.LockBar));

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
  if (props.state.view.ended !== null) return <OverControls {...props} />;
  if (props.state.watchesOnly) return <LookingOnBar />;
  if (props.isLocked) return <LockBar onUnlock={() => props.onLock(false)} />;
  return viewer().isFar ? <FarControls /> : <GoingControls {...props} />;
}

function OverControls({ info, onNewRun }: RunControlsProps) {
  return (
    <footer class="controls">
      <Button onPress={onNewRun} sign="next" signAt="end" look="solid">
        {BUTTONS.startRun}
      </Button>
      <a class="button button-plain" href={`#/runs/${encodeURIComponent(info.run)}`}>
        <span class="button-word">{BUTTONS.lookBack}</span>
      </a>
    </footer>
  );
}

/** What it says where the buttons of others stand. */
export function LookingOnBar() {
  return (
    <footer class="controls">
      <p class="ask-end">
        {LOOKING_ON.looksOn} {LOOKING_ON.elsewhere}
      </p>
    </footer>
  );
}

function FarControls() {
  return (
    <footer class="controls">
      <Button onPress={() => changeViewer({ isFar: false })} class="far-side">
        {SCREEN.near}
      </Button>
    </footer>
  );
}

/** Ending takes two taps in two places: where End stood, Go on stands. */
function GoingControls(props: RunControlsProps) {
  const { asks, info, phase, isLost, isEnding, onEnding, isSoundOn } = props;
  if (isEnding) {
    return (
      <footer class="controls controls-ending">
        <p class="ask-end">{BUTTONS.askEnd}</p>
        <Button onPress={() => onEnding(false)} look="solid" class="go-on">
          {BUTTONS.goOn}
        </Button>
        <Button onPress={asks.end} sign="end" class="far-side" disabled={isLost}>
          {BUTTONS.endIt}
        </Button>
      </footer>
    );
  }
  const at = info.profile.phases.findIndex(({ id }) => id === phase?.id);
  const next = phase === undefined ? firstPhase(info) : info.profile.phases[at + 1];
  return (
    <footer class="controls">
      <Button onPress={props.onNote} sign="note" look="solid" disabled={isLost}>
        {BUTTONS.noteIt}
      </Button>
      {next !== undefined && (
        <Button
          onPress={() => (phase === undefined ? asks.startAt(next.id) : asks.next())}
          sign="next"
          signAt="end"
          disabled={isLost}
        >
          {phase === undefined ? BUTTONS.startNow : phaseName(next.id)}
        </Button>
      )}
      <Button onPress={() => onEnding(true)} sign="end" disabled={isLost} class={next === undefined ? '' : 'on-wide'}>
        {BUTTONS.end}
      </Button>
      <Button onPress={() => props.onLock(true)} sign="locked" class="far-side small-on-phone">
        {LOCK.lock}
      </Button>
      <Button onPress={asks.turnSound} sign={isSoundOn ? 'soundOn' : 'soundOff'} class="on-wide sound-switch">
        {isSoundOn ? BUTTONS.soundOn : BUTTONS.soundOff}
      </Button>
      <Button onPress={props.onMore} sign="more" class="small-on-phone">
        {BUTTONS.more}
      </Button>
    </footer>
  );
}
