/** What stands in the place of the buttons of a run: when it is over, looked on at, locked, about to be ended, or seen from afar. */
import { laterPart } from '../part.tsx';
import { changeViewer } from '../viewer.ts';
import { LOOKING_ON } from '../words/hands.ts';
import { OTHER_BUTTONS } from '../words/other-buttons.ts';
import { SCREEN } from '../words/screen.ts';
import { Button } from './button.tsx';
import { SIGN } from './icons.tsx';
import { LockBar } from './lock-bar.tsx';
import type { RunControlsProps } from './run-controls.tsx';

export function OtherControls(props: RunControlsProps) {
  const { state, isLocked, isEnding, onLock } = props;
  if (state.view.ended !== null) return <OverControls {...props} />;
  if (state.watchesOnly) return <LookingOnBar />;
  if (isLocked) return <LockBar onUnlock={() => onLock(false)} />;
  return isEnding ? <EndingControls {...props} /> : <FarControls />;
}

/** Comes with what a past run is looked back at with: there it goes on. */
const SettingBar = laterPart(() => import('../pages/past.tsx').then((part) => part.SettingBar));

function OverControls({ state, info, onNewRun }: RunControlsProps) {
  const { view } = state;
  return (
    <>
      {view.ended !== null && <SettingBar info={info} view={view} endedAtMs={view.ended.atMs} />}
      <footer class="controls">
        <Button onPress={onNewRun} sign={SIGN.next} signAt="end" look="solid">
          {OTHER_BUTTONS.startRun}
        </Button>
        <a class="button button-plain" href={`#/runs/${encodeURIComponent(info.run)}`}>
          <span class="button-word">{OTHER_BUTTONS.lookBack}</span>
        </a>
      </footer>
    </>
  );
}

/** What it says where the buttons of others stand. */
export function LookingOnBar() {
  return (
    <footer class="controls">
      <p class="ask-end">
        {LOOKING_ON.looksOn} {OTHER_BUTTONS.elsewhere}
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
function EndingControls({ asks, isLost, onEnding }: RunControlsProps) {
  return (
    <footer class="controls controls-ending">
      <p class="ask-end">{OTHER_BUTTONS.askEnd}</p>
      <Button onPress={() => onEnding(false)} look="solid" class="go-on">
        {OTHER_BUTTONS.goOn}
      </Button>
      <Button onPress={asks.end} sign={SIGN.end} class="far-side" disabled={isLost}>
        {OTHER_BUTTONS.endIt}
      </Button>
    </footer>
  );
}
