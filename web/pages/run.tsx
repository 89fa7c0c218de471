/** The run: sentence, number, road, and a few large buttons low on the page. */
import { useEffect, useState } from 'preact/hooks';
import type { RunInfo } from '../../server/core/show/wire.ts';
import type { PastAlarm } from '../../server/core/show/view.ts';
import { Headline, Spoken } from '../controls/headline.tsx';
import { LiveRoad } from '../controls/live-road.tsx';
import { NumberColumn } from '../controls/number.tsx';
import type { NoteAt, OpenSheet } from '../controls/run-sheets.tsx';
import { RunControls } from '../controls/run-controls.tsx';
import { SoundBar } from '../controls/sound-bar.tsx';
import { RaisedBar, SimulatedRibbon, TroubleStrip } from '../controls/strips.tsx';
import { isLiveNumber, lastTrueOf } from '../moment.ts';
import { leftOnOf, liveRoad } from '../outlook.ts';
import { atHand, OrMissing } from '../part.tsx';
import { FOLLOW } from '../road-look.ts';
import type { RoadLook } from '../road-look.ts';
import { useEnvelope } from '../use-envelope.ts';
import { useKeys } from '../use-keys.ts';
import { useStripTest } from '../use-strip-test.ts';
import { viewer } from '../viewer.ts';
import { clock } from '../words/measure.ts';
import { SCREEN } from '../words/screen.ts';
import { sentence } from '../words/sentence.ts';
import { lostSentence, screensWords } from '../words/states.ts';
import type { BowlProps, JustNoted } from './bowl.tsx';

/** Where what is at hand can't be had, that is said here: before anybody taps in vain, or an alarm says less than it could. */
const RunStrips = atHand((part) => part.RunStrips, OrMissing);
const StepBar = atHand((part) => part.StepBar);
const ReadOut = atHand((part) => part.ReadOut);
const KeepAwake = atHand((part) => part.KeepAwake);
const RunSheets = atHand((part) => part.RunSheets);

export interface RunPageProps extends BowlProps {
  readonly info: RunInfo;
  /** For a few seconds after a note. */
  readonly noted: JustNoted | null;
  readonly onNewRun: () => void;
  readonly onLock: (isLocked: boolean) => void;
  /** Whether somebody is about to note something. */
  readonly onNoting: (isNoting: boolean) => void;
}

export function RunPage(props: RunPageProps) {
  const { state, moment, info, asks, isLocked, onLock, onNoting } = props;
  const { view, now } = state;
  const [sheet, setSheet] = useState<OpenSheet>('none');
  useEffect(() => onNoting(sheet === 'note'), [sheet]);
  const [look, setLook] = useState<RoadLook | null>(null);
  /** What the road was tapped at, to note something of then. */
  const [noteAt, setNoteAt] = useState<NoteAt | null>(null);
  const [isEnding, setEnding] = useState(false);
  const [readOff, setReadOff] = useState<readonly number[]>([]);
  const envelope = useEnvelope(info);
  const isLost = state.connection === 'lost';
  const isLive = isLiveNumber(state);
  const isOver = view.ended !== null;
  const [isDark, setDark] = useState(false);
  const mayGoDark = isDark && !viewer().knowsSleep && !isOver;
  const [test, lookNow] = useStripTest(view, moment.atMs);
  const said = isLost
    ? lostSentence(lastTrueOf(state.lastTrue), state.hasSlept ? 'sleep' : 'line', state.refused)
    : sentence(view, moment, info.profile, test);
  const phase = info.profile.phases.find(({ id }) => id === view.phase);
  const close = (): void => {
    setSheet('none');
    setNoteAt(null);
  };
  const noteThen = (atMs: number): void => {
    setNoteAt({ atMs });
    setSheet('note');
  };
  const clockOf = (atMs: number): string => clock(info.startedAtWall, info.startedAtMs, atMs);
  const unread = view.unseen.filter((alarm) => !readOff.includes(alarm.raisedAtMs)).at(-1);
  useKeys({
    note: isOver || isLost || isLocked ? undefined : () => setSheet('note'),
    next: isOver || isLost || isLocked || phase === undefined ? undefined : asks.next,
    lock: isOver ? undefined : () => onLock(true),
    seen: unread === undefined || view.alarms.some((alarm) => !alarm.acknowledged) ? undefined : () => markSeen(unread),
  });
  const markSeen = (alarm: PastAlarm): void => {
    setReadOff([...readOff, alarm.raisedAtMs]);
    asks.seen(alarm.alarm);
  };
  const isFar = viewer().isFar && !isLocked;
  return (
    <main class={`run ${isLost ? 'run-lost' : ''} ${isFar ? 'run-far' : ''}`}>
      <div class="strips">
        {props.others}
        {info.simulated && <SimulatedRibbon />}
        <RunStrips state={state} moment={moment} unread={unread} onSeen={markSeen} />
        {props.trouble !== null && <TroubleStrip why={props.trouble} onRead={props.onTroubleRead} />}
      </div>
      <div class="top">
        <Headline said={said} />
        {said.area === 'words' && <WhatAndWho info={info} screens={now?.screens ?? 1} mayGoDark={mayGoDark} />}
      </div>
      <Spoken said={said} />
      <ReadOut bowls={state.bowls} bowl={state.bowl} said={said} moment={moment} isLive={isLive} />
      <div class="body" inert={isLocked}>
        <div class="left">
          <NumberColumn
            view={view}
            moment={moment}
            profile={info.profile}
            isLive={isLive}
            simulated={info.simulated}
            isUnchecked={now !== null && now.check === undefined}
            leftOn={leftOnOf(state, moment)}
            onAskStanding={() => setSheet('standing')}
          />
          <Then lines={said.later} />
        </div>
        <LiveRoad
          model={{ ...liveRoad(state, moment, info, false), envelope }}
          look={look}
          clockOf={clockOf}
          onLook={setLook}
          onNoteAt={isOver || isLost ? undefined : noteThen}
        />
      </div>
      <div class="foot">
        <RaisedBar view={view} moment={moment} asks={asks} />
        {!isOver && !isLocked && (
          <StepBar
            view={view}
            moment={moment}
            profile={info.profile}
            test={test}
            noted={props.noted}
            isDisabled={isLost}
            onLookNow={lookNow}
            onAct={asks.act}
            onStrike={asks.strike}
          />
        )}
        <RunControls
          {...props}
          phase={phase}
          isLost={isLost}
          isEnding={isEnding}
          onEnding={setEnding}
          onNote={() => setSheet('note')}
          onMore={() => setSheet('more')}
        />
        {mayGoDark && <p class="may-go-dark on-narrow">{SCREEN.mayGoDark}</p>}
        {!isOver && !isLocked && <SoundBar bellTrouble={now?.bellTrouble} />}
      </div>
      <KeepAwake isWanted={!isOver} onDark={setDark} />
      <RunSheets
        {...props}
        sheet={sheet}
        noteAt={noteAt}
        onClose={close}
        onEnding={() => setEnding(true)}
        onLook={() => setLook(FOLLOW)}
      />
    </main>
  );
}

interface WhatAndWhoProps {
  readonly info: RunInfo;
  readonly screens: number;
  readonly mayGoDark: boolean;
}

function WhatAndWho({ info, screens, mayGoDark }: WhatAndWhoProps) {
  if (mayGoDark) {
    return (
      <p class="what-and-who may-go-dark">
        {SCREEN.mayGoDark.split(/(?<=\.) /).map((sentence) => (
          <span key={sentence}>{sentence}</span>
        ))}
      </p>
    );
  }
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
