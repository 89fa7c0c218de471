/** The run: sentence, number, road, and a few large buttons low on the page. */
import { useState } from 'preact/hooks';
import { firstDownIndex } from '../../server/core/show/course.ts';
import type { RunInfo } from '../../server/core/show/wire.ts';
import type { Phase } from '../../server/core/record/profile.ts';
import type { PastAlarm } from '../../server/core/show/view.ts';
import { Button } from '../controls/button.tsx';
import { Headline, Spoken } from '../controls/headline.tsx';
import { MoreSheet } from '../controls/more-sheet.tsx';
import { NoteSheet } from '../controls/note-sheet.tsx';
import { NumberColumn } from '../controls/number.tsx';
import { RoadView } from '../controls/road-view.tsx';
import {
  SeenStrips,
  SimulatedRibbon,
  SoundOffBar,
  TroubleStrip,
  UnrecordedStrip,
  UnseenStrip,
} from '../controls/strips.tsx';
import { isLiveNumber, roadMarks } from '../moment.ts';
import type { RoadModel } from '../road/model.ts';
import { phaseName } from '../words/names.ts';
import { sentence } from '../words/sentence.ts';
import { lostSentence, screensWords } from '../words/states.ts';
import type { BowlProps } from './bowl.tsx';
import { lastTrueOf } from './start.tsx';

export interface RunPageProps extends BowlProps {
  readonly info: RunInfo;
  /** "Noted: …", for a few seconds after a note. */
  readonly noted: string | null;
  readonly onNewRun: () => void;
}

type OpenSheet = 'none' | 'note' | 'more';

export function RunPage(props: RunPageProps) {
  const { state, moment, info, asks } = props;
  const { view, now } = state;
  const [sheet, setSheet] = useState<OpenSheet>('none');
  const [isEnding, setEnding] = useState(false);
  const [readOff, setReadOff] = useState<readonly number[]>([]);
  const isLost = state.connection === 'lost';
  const isLive = isLiveNumber(state);
  const said = isLost ? lostSentence(lastTrueOf(state.lastTrue)) : sentence(view, moment, info.profile);
  const phase = info.profile.phases.find(({ id }) => id === view.phase);
  const isOver = view.ended !== null;
  const close = (): void => setSheet('none');
  const markSeen = (alarm: PastAlarm): void => {
    setReadOff([...readOff, alarm.raisedAtMs]);
    asks.seen(alarm.alarm);
  };
  return (
    <main class={isLost ? 'run run-lost' : 'run'}>
      {info.simulated && <SimulatedRibbon />}
      <SeenStrips view={view} moment={moment} />
      {view.unseen
        .filter((alarm) => !readOff.includes(alarm.raisedAtMs))
        .slice(-1)
        .map((alarm) => (
          <UnseenStrip key={alarm.raisedAtMs} alarm={alarm} onSeen={() => markSeen(alarm)} />
        ))}
      {now !== null && now.unrecordedSinceMs !== null && (
        <UnrecordedStrip sinceMs={now.unrecordedSinceMs} moment={moment} />
      )}
      {props.trouble !== null && <TroubleStrip why={props.trouble} onRead={props.onTroubleRead} />}
      <div class="top">
        <Headline said={said} />
        {said.area === 'words' && <WhatAndWho info={info} screens={now?.screens ?? 1} />}
      </div>
      <Spoken said={said} />
      <div class="body">
        <div class="left">
          <NumberColumn view={view} moment={moment} isLive={isLive} simulated={info.simulated} />
          {props.noted === null ? <Then lines={said.later} /> : <p class="then noted">{props.noted}</p>}
        </div>
        <RoadView model={roadModel(props)} />
      </div>
      {isOver ? (
        <footer class="controls">
          <Button onPress={props.onNewRun} sign="next" signAt="end" look="solid">
            Start a run
          </Button>
          <a class="button button-plain" href={`#/runs/${encodeURIComponent(info.run)}`}>
            <span class="button-word">Look back at it</span>
          </a>
        </footer>
      ) : (
        <RunControls
          {...props}
          phase={phase}
          isLost={isLost}
          isEnding={isEnding}
          onEnding={setEnding}
          onSheet={setSheet}
        />
      )}
      {!props.isSoundOn && !isOver && <SoundOffBar onTurnOn={asks.turnSound} />}
      {sheet === 'note' && (
        <NoteSheet
          heading={phase?.heading ?? 'up'}
          onClose={close}
          onAct={(act) => {
            asks.act(act);
            close();
          }}
          onText={(text) => {
            asks.note(text);
            close();
          }}
        />
      )}
      {sheet === 'more' && (
        <MoreSheet
          profile={info.profile}
          phase={view.phase}
          now={now}
          isSoundOn={props.isSoundOn}
          isLost={isLost}
          onBack={asks.back}
          onSound={asks.turnSound}
          onEnd={
            isOver
              ? null
              : () => {
                  setEnding(true);
                  close();
                }
          }
          onClose={close}
        />
      )}
    </main>
  );
}

function roadModel({ state, moment, info }: RunPageProps): RoadModel {
  const isLive = isLiveNumber(state);
  return {
    profile: info.profile,
    phases: state.view.visits,
    curve: state.curve,
    startedAtMs: info.startedAtMs,
    nowMs: moment.atMs,
    live: isLive ? 'live' : 'stale',
    estimate: moment.estimate,
    fan: isLive && state.view.ended === null ? (state.now?.fan ?? []) : [],
    marks: roadMarks(state.view.marks),
    window: { kind: 'follow' },
    alarm: false,
  };
}

function WhatAndWho({ info, screens }: { readonly info: RunInfo; readonly screens: number }) {
  const at = new Date();
  const time = `${String(at.getHours()).padStart(2, '0')}:${String(at.getMinutes()).padStart(2, '0')}`;
  return (
    <p class="what-and-who">
      <span>{info.profile.title}</span>
      <span>
        {time}, {screensWords(screens)}
      </span>
    </p>
  );
}

function Then({ lines }: { readonly lines: readonly string[] }) {
  if (lines.length === 0) return null;
  return (
    <p class="then">
      {lines.map((line) => (
        <span key={line}>{line}</span>
      ))}
    </p>
  );
}

/** Where a run begins that the person starts by hand: tempered chocolate at the work, molten at the cooling, all else at the first. */
function firstPhase({ profile, condition }: RunInfo): Phase | undefined {
  const { phases } = profile;
  if (condition === 'tempered') return phases.findLast(({ heading }) => heading === 'hold') ?? phases[0];
  if (condition === 'melted') return phases[firstDownIndex(profile)] ?? phases[0];
  return phases[0];
}

interface RunControlsProps extends RunPageProps {
  readonly phase: Phase | undefined;
  readonly isLost: boolean;
  readonly isEnding: boolean;
  readonly onEnding: (isEnding: boolean) => void;
  readonly onSheet: (sheet: OpenSheet) => void;
}

/** Ending takes two taps in two places: where End stood, Go on stands. */
function RunControls(props: RunControlsProps) {
  const { asks, info, phase, isLost, isEnding, onEnding, isSoundOn, onSheet } = props;
  if (isEnding) {
    return (
      <footer class="controls controls-ending">
        <p class="ask-end">End the run?</p>
        <Button onPress={() => onEnding(false)} look="solid" class="go-on">
          Go on
        </Button>
        <Button onPress={asks.end} sign="end" class="far-side" disabled={isLost}>
          End it
        </Button>
      </footer>
    );
  }
  const at = info.profile.phases.findIndex(({ id }) => id === phase?.id);
  const next = phase === undefined ? firstPhase(info) : info.profile.phases[at + 1];
  return (
    <footer class="controls">
      <Button onPress={() => onSheet('note')} sign="note" look="solid" disabled={isLost}>
        Note it
      </Button>
      {next !== undefined && (
        <Button
          onPress={() => (phase === undefined ? asks.startAt(next.id) : asks.next())}
          sign="next"
          signAt="end"
          disabled={isLost}
        >
          {phase === undefined ? 'Start now' : phaseName(next.id)}
        </Button>
      )}
      <Button onPress={() => onEnding(true)} sign="end" disabled={isLost} class={next === undefined ? '' : 'on-wide'}>
        End
      </Button>
      <Button
        onPress={asks.turnSound}
        sign={isSoundOn ? 'soundOn' : 'soundOff'}
        class="far-side on-wide"
        pressed={isSoundOn}
      >
        {isSoundOn ? 'Sound on' : 'Sound off'}
      </Button>
      <Button onPress={() => onSheet('more')} sign="more" class="more">
        More
      </Button>
    </footer>
  );
}
