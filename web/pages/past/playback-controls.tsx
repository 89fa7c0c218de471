/** What moves the head of playback: a line to drag it along, and a button for all that a drag can do. */
import { Button } from '../../controls/button.tsx';
import { MORE_SIGN } from '../../controls/more-signs.ts';
import { KEY_ACTIONS, USUAL_KEYS } from '../../keys.ts';
import { LARGE_STEP_MS, SMALL_STEP_MS } from '../../playback-keys.ts';
import * as playing from '../../playback.ts';
import type { Playback } from '../../playback.ts';
import { alongAt, momentAlong } from '../../road/unfolded.ts';
import type { TimeSpan } from '../../road/window.ts';
import { keptKeys, wasWalkedTo } from '../../key-presses.ts';
import { lasted } from '../../words/lasted.ts';
import { PLAYBACK } from '../../words/playback.ts';
import type { ChangePlayback } from './use-playback.ts';
import { ELSEWHERE } from '../../words/elsewhere.ts';

export interface PlaybackControlsProps {
  readonly playback: Playback;
  /** Of the run's events, oldest first. */
  readonly moments: readonly number[];
  /** In the phases, oldest first; the road lies unfolded by them. */
  readonly stays: readonly TimeSpan[];
  readonly clockOf: (atMs: number) => string;
  readonly onChange: ChangePlayback;
}

export function PlaybackControls(props: PlaybackControlsProps) {
  const { playback, moments, onChange } = props;
  return (
    <div class="controls" role="group" aria-label={PLAYBACK.title}>
      <HeadLine {...props} />
      <Button
        onPress={() => onChange(playback.isPlaying ? playing.stop : playing.play)}
        sign={playback.isPlaying ? MORE_SIGN.stop : MORE_SIGN.play}
        look="solid"
      >
        {playback.isPlaying ? PLAYBACK.stop : PLAYBACK.play}
      </Button>
      <StepButtons stepMs={SMALL_STEP_MS} onChange={onChange} />
      <Button onPress={() => onChange((now) => playing.toEvent(now, moments, -1))}>{PLAYBACK.eventBefore}</Button>
      <Button onPress={() => onChange((now) => playing.toEvent(now, moments, 1))} sign={MORE_SIGN.mark} signAt="end">
        {PLAYBACK.nextEvent}
      </Button>
    </div>
  );
}

interface StepButtonsProps extends Pick<PlaybackControlsProps, 'onChange'> {
  readonly stepMs: number;
}

/** Back and on by as much. */
function StepButtons({ stepMs, onChange }: StepButtonsProps) {
  return (
    <>
      {[-stepMs, stepMs].map((byMs) => (
        <Button key={byMs} onPress={() => onChange((now) => playing.moveTo(now, now.headMs + byMs))}>
          {PLAYBACK.move(lasted(stepMs / 1000), byMs > 0)}
        </Button>
      ))}
    </>
  );
}

/** Stands under the unfolded road, moment under moment. Walked to by keys it has the arrows for itself, in steps of a second. */
function HeadLine({ playback, stays, clockOf, onChange }: PlaybackControlsProps) {
  const { headMs } = playback;
  const along = alongAt(stays, headMs);
  const press = (event: KeyboardEvent): void => {
    const byMs = ARROWS[event.key];
    if (byMs === undefined || !wasWalkedTo(event.currentTarget)) return;
    event.preventDefault();
    onChange((now) => playing.moveTo(now, now.headMs + byMs));
  };
  return (
    <input
      class="head-line"
      style={{ '--along': along }}
      type="range"
      aria-label={PLAYBACK.head}
      aria-valuetext={clockOf(headMs)}
      data-at-ms={Math.round(headMs)}
      min={0}
      max={1}
      step="any"
      value={along}
      onKeyDown={press}
      onInput={(event) => {
        const atMs = momentAlong(stays, Number(event.currentTarget.value));
        onChange((now) => playing.moveTo(now, atMs));
      }}
    />
  );
}

/** ms. */
const ARROWS: Readonly<Record<string, number>> = {
  ArrowLeft: -1_000,
  ArrowDown: -1_000,
  ArrowRight: 1_000,
  ArrowUp: 1_000,
};

/** Seldomer asked for: how fast it goes, and the larger steps. */
export function PaceButtons({ playback, onChange }: Pick<PlaybackControlsProps, 'playback' | 'onChange'>) {
  return (
    <>
      <StepButtons stepMs={LARGE_STEP_MS} onChange={onChange} />
      <Button
        onPress={() => onChange((now) => playing.changeSpeed(now, -1))}
        sign={MORE_SIGN.slower}
        disabled={playback.speed === playing.SPEEDS[0]}
      >
        {ELSEWHERE.slower}
      </Button>
      <p class="speed" aria-live="polite">
        {PLAYBACK.speed(playback.speed)}
      </p>
      <Button
        onPress={() => onChange((now) => playing.changeSpeed(now, 1))}
        sign={MORE_SIGN.faster}
        signAt="end"
        disabled={playback.speed === playing.SPEEDS.at(-1)}
      >
        {ELSEWHERE.faster}
      </Button>
    </>
  );
}

/** What keys do here, for whoever has some. */
export function PlaybackKeys() {
  const keys = keptKeys();
  const isTaught = KEY_ACTIONS.some((action) => keys[action] !== USUAL_KEYS[action]);
  return (
    <p class="quiet past-keys">
      {PLAYBACK.keys} {isTaught && PLAYBACK.ownKeys}
    </p>
  );
}
