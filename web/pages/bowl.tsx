/** The bowl, live: decides which page stands (start, run, alarm), and joins socket, commands and sound to it. */
import type { ComponentChildren } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import type { Act, Condition } from '../../server/core/record/command.ts';
import type { AlarmName } from '../../server/core/record/event.ts';
import type { NoteInfo } from '../../server/core/show/wire.ts';
import type { Live, LiveState } from '../live.ts';
import { momentOf } from '../moment.ts';
import type { NoteChange, Noted } from '../noted.ts';
import { fetchAtHand, laterPage } from '../part.tsx';
import type { NewNote } from '../fetched.ts';
import { postCommand } from '../post.ts';
import type { Answer, PageCommand } from '../post.ts';
import type { Sound } from '../sound.ts';
import { useRinging } from '../sound/use-ringing.ts';
import { useSpeaker } from '../sound/use-speaker.ts';
import { useKeys } from '../use-keys.ts';
import { useLive } from '../use-live.ts';
import { useSteadied } from '../use-steadied.ts';
import { LOCK, LOOKING_ON, NOTES } from '../words/hands.ts';
import type { Moment } from '../words/sentence.ts';
import { areaOf } from '../words/alarm.ts';
import { clock } from '../words/measure.ts';
import { ACT_NAME } from '../words/names.ts';
import { lostSentence, WAITING } from '../words/states.ts';
import { Beneath } from '../controls/beneath.tsx';
import { Headline } from '../controls/headline.tsx';
import { AlarmPage } from './alarm.tsx';
import { RunPage } from './run.tsx';
import { POST, STRIPS } from '../words/page.ts';

const StartPage = laterPage(() => fetchAtHand().then((part) => part.StartPage));

/** What the pages can ask for. Each comes back as trouble in words where it fails; where something was typed, to whoever has it. */
export interface Asks {
  readonly choose: (profile: string, condition: Condition) => void;
  readonly startAt: (phase: string) => void;
  readonly next: () => void;
  readonly back: () => void;
  readonly end: () => void;
  readonly act: (act: Act) => void;
  readonly note: (note: NoteChange) => Promise<string | null>;
  /** Puts a note in the place of what was noted; one without words strikes it out. */
  readonly change: (noted: Pick<Noted, 'id'>, note: NoteChange) => Promise<string | null>;
  readonly strike: (noted: Pick<Noted, 'id' | 'atMs'>) => void;
  readonly seen: (alarm: AlarmName) => void;
  readonly quiet: (alarm: AlarmName) => void;
  readonly turnSound: () => void;
}

/** What was noted a moment ago, and how to take it back. */
export interface JustNoted {
  readonly text: string;
  readonly act: Act | null;
  readonly undo: () => void;
}

/** How long "Noted" stands in the "then" place and can be taken back, ms. */
const NOTED_MS = 10_000;

export interface BowlPageProps {
  readonly live: Live;
  readonly sound: Sound;
  /** The way to other bowls, where there are any. */
  readonly others: ComponentChildren;
}

export function BowlPage({ live, sound, others }: BowlPageProps) {
  const state = useLive(live);
  const [trouble, setTrouble] = useState<string | null>(null);
  const [noted, setNoted] = useState<JustNoted | null>(null);
  const [isLocked, setLocked] = useState(false);
  const [isNoting, setNoting] = useState(false);
  /** The run that was over when another was asked for. */
  const [leftRun, setLeftRun] = useState<string | null>(null);
  useSpeaker();
  const isSoundOn = sound.isOn();
  const nowMs = live.feedNowMs();
  const { view } = state;
  const moment = useSteadied(view, momentOf(state, nowMs));
  const unseenAlarm = view.alarms.find((alarm) => !alarm.acknowledged);

  useRinging(sound, state, nowMs);
  useEffect(() => {
    if (noted === null) return undefined;
    const timer = window.setTimeout(() => setNoted(null), NOTED_MS);
    return () => window.clearTimeout(timer);
  }, [noted]);

  const command = async (what: PageCommand, done?: () => void): Promise<void> => {
    const answer = await postCommand(state.bowl ?? '', what);
    if (answer.ok) done?.();
    else setTrouble(answer.why);
  };
  const write = async (note: NewNote, done?: (value: NoteInfo) => void): Promise<string | null> => {
    if (view.info === null) return null;
    const answer = await sentNote(view.info.run, note);
    if (!answer.ok) return answer.why;
    done?.(answer.value);
    return null;
  };
  const change: Asks['change'] = ({ id }, note) => write({ ...note, replaces: id });
  const strike: Asks['strike'] = (noted) =>
    void change(noted, { atMs: noted.atMs, text: '' }).then((why) => why !== null && setTrouble(why));
  const sayNoted = (text: string, act: Act | null, findMark: () => Pick<Noted, 'id' | 'atMs'> | undefined): void => {
    const at = view.info === null ? '' : `, ${clock(view.info.startedAtWall, view.info.startedAtMs, nowMs)}`;
    const undo = (): void => {
      const mark = findMark();
      setNoted(null);
      if (mark === undefined) setTrouble(NOTES.noMark);
      else strike(mark);
    };
    setNoted({ text: STRIPS.noted(`${text}${at}`), act, undo });
  };
  const newestAct = (act: Act) =>
    live
      .state()
      .view.marks.findLast((mark) => mark.kind === 'act' && mark.act === act && mark.atMs >= nowMs - NOTED_MS);
  const asks: Asks = {
    choose: (profile, condition) => void command({ name: 'choose-profile', profile, condition }),
    startAt: (phase) => void command({ name: 'start', phase }),
    next: () => void command({ name: 'next' }),
    back: () => void command({ name: 'back' }),
    end: () => void command({ name: 'end' }),
    act: (act) => void command({ name: 'act', act }, () => sayNoted(ACT_NAME[act], act, () => newestAct(act))),
    note: (note) =>
      write(note, ({ id, atMs }) => {
        sayNoted(note.text, null, () => ({ id: `note-${id}`, atMs }));
      }),
    change,
    strike,
    seen: (alarm) => void command({ name: 'acknowledge', alarm }),
    quiet: (alarm) => void command({ name: 'quieten', alarm }),
    turnSound: () => void (sound.isOn() ? sound.turnOff() : sound.turnOn()),
  };

  useKeys({
    seen: unseenAlarm === undefined ? undefined : () => asks.seen(unseenAlarm.alarm),
    sound: isLocked ? undefined : asks.turnSound,
  });
  const open = opened(asks, state.watchesOnly, isLocked, setTrouble);
  const isShut = isLocked || state.watchesOnly;
  const onTroubleRead = (): void => setTrouble(null);
  const shared = { state, moment, others, asks: open, trouble, onTroubleRead, isSoundOn, isLocked: isShut };
  if (!state.isKnown) return <WaitingPage isLost={state.connection === 'lost'} />;
  if (view.info === null || view.info.run === leftRun) return <StartPage {...shared} />;
  const { info } = view;
  const raised = view.alarms.find((alarm) => !alarm.acknowledged && areaOf(alarm) === 'page');
  const isAlarm = raised !== undefined && state.connection !== 'lost';
  const onNewRun = (): void => setLeftRun(info.run);
  // A note that is half written waits beneath the alarm.
  return (
    <>
      {isAlarm && <AlarmPage {...shared} info={info} alarm={raised} />}
      {(!isAlarm || isNoting) && (
        <Beneath isCovered={isAlarm}>
          <RunPage {...shared} info={info} noted={noted} onNewRun={onNewRun} onLock={setLocked} onNoting={setNoting} />
        </Beneath>
      )}
    </>
  );
}

/** What sends it is here before anything can be typed, unless Bowlside was gone by then. */
async function sentNote(run: string, note: NewNote): Promise<Answer<NoteInfo>> {
  const hand = await fetchAtHand().catch(() => null);
  return hand === null ? { ok: false, why: POST.unreachable } : hand.postNote(run, note);
}

/** Nothing leaves a screen that looks on, and nothing one that is locked but that an alarm was seen. */
function opened(asks: Asks, watchesOnly: boolean, isLocked: boolean, say: (why: string) => void): Asks {
  if (watchesOnly) return { ...shut(asks, LOOKING_ON.looksOn, say), turnSound: asks.turnSound };
  return isLocked ? { ...shut(asks, LOCK.locked, say), seen: asks.seen } : asks;
}

function shut(asks: Asks, why: string, say: (why: string) => void): Asks {
  const saying = Object.fromEntries(Object.keys(asks).map((name) => [name, () => say(why)]));
  const refusing = (): Promise<string> => Promise.resolve(why);
  return { ...(saying as unknown as Asks), note: refusing, change: refusing };
}

/** Until the server has spoken, nothing is asked and nothing is shown that could be wrong. */
function WaitingPage({ isLost }: { readonly isLost: boolean }) {
  const said = isLost ? lostSentence('') : WAITING;
  return (
    <main class={isLost ? 'run run-lost' : 'run'}>
      <Headline said={said} />
    </main>
  );
}

export interface BowlProps {
  readonly state: LiveState;
  readonly moment: Moment;
  readonly others: ComponentChildren;
  readonly asks: Asks;
  readonly trouble: string | null;
  readonly onTroubleRead: () => void;
  readonly isSoundOn: boolean;
  /** Against wet hands: nothing works but Seen. */
  readonly isLocked: boolean;
}
