/** The bowl, live: decides which page stands (start, run, alarm), and joins socket, commands and sound to it. */
import { useEffect, useRef, useState } from 'preact/hooks';
import type { Act, Condition } from '../../server/core/record/command.ts';
import type { AlarmName } from '../../server/core/record/event.ts';
import type { View } from '../../server/core/show/view.ts';
import type { Live, LiveState } from '../live.ts';
import { carefulOf, momentOf } from '../moment.ts';
import { postCommand, postNote } from '../post.ts';
import type { Answer, PageCommand } from '../post.ts';
import type { Sound, Urgency } from '../sound.ts';
import { useLive } from '../use-live.ts';
import { areaOf } from '../words/alarm.ts';
import { clock } from '../words/measure.ts';
import { ACT_NAME } from '../words/names.ts';
import { lostSentence, WAITING } from '../words/states.ts';
import { Headline } from '../controls/headline.tsx';
import { AlarmPage } from './alarm.tsx';
import { RunPage } from './run.tsx';
import { StartPage } from './start.tsx';

/** What the pages can ask for. Each comes back as trouble in words where it fails. */
export interface Asks {
  readonly choose: (profile: string, condition: Condition) => void;
  readonly startAt: (phase: string) => void;
  readonly next: () => void;
  readonly back: () => void;
  readonly end: () => void;
  readonly act: (act: Act) => void;
  readonly note: (text: string) => void;
  readonly seen: (alarm: AlarmName) => void;
  readonly quiet: (alarm: AlarmName) => void;
  readonly turnSound: () => void;
}

/** How long "Noted" stands in the "then" place, ms. */
const NOTED_MS = 6_000;

export function BowlPage({ live, sound }: { readonly live: Live; readonly sound: Sound }) {
  const state = useLive(live);
  const [trouble, setTrouble] = useState<string | null>(null);
  const [noted, setNoted] = useState<string | null>(null);
  const [isChoosing, setChoosing] = useState(false);
  const [isSoundOn, setSoundOn] = useState(sound.isOn());
  const nowMs = live.feedNowMs();
  const moment = momentOf(state, nowMs);
  const { view } = state;
  const careful = carefulOf(state);

  useRinging(sound, view, careful === null ? urgencyOf(view, nowMs) : 'warning');
  useEffect(() => {
    if (noted === null) return undefined;
    const timer = window.setTimeout(() => setNoted(null), NOTED_MS);
    return () => window.clearTimeout(timer);
  }, [noted]);

  const settle = async (asked: Promise<Answer<unknown>>, done?: () => void): Promise<void> => {
    const answer = await asked;
    if (answer.ok) done?.();
    else setTrouble(answer.why);
  };
  const command = (what: PageCommand, done?: () => void): void => void settle(postCommand(what), done);
  const sayNoted = (text: string): void => {
    const at = view.info === null ? '' : `, ${clock(view.info.startedAtWall, view.info.startedAtMs, nowMs)}`;
    setNoted(`Noted: ${text}${at}.`);
  };
  const asks: Asks = {
    choose: (profile, condition) => command({ name: 'choose-profile', profile, condition }, () => setChoosing(false)),
    startAt: (phase) => command({ name: 'start', phase }),
    next: () => command({ name: 'next' }),
    back: () => command({ name: 'back' }),
    end: () => command({ name: 'end' }),
    act: (act) => command({ name: 'act', act }, () => sayNoted(ACT_NAME[act])),
    note: (text) => {
      if (view.info !== null)
        void settle(postNote(view.info.run, { atMs: Math.round(nowMs), text }), () => sayNoted(text));
    },
    seen: (alarm) => command({ name: 'acknowledge', alarm }),
    quiet: (alarm) => command({ name: 'quieten', alarm }),
    turnSound: () => {
      const turned = sound.isOn() ? sound.turnOff() : sound.turnOn();
      void turned.then(() => setSoundOn(sound.isOn()));
    },
  };

  const shared = { state, moment, asks, trouble, onTroubleRead: () => setTrouble(null), isSoundOn };
  if (!state.isKnown) return <WaitingPage isLost={state.connection === 'lost'} />;
  if (view.info === null || isChoosing || careful !== null) return <StartPage {...shared} />;
  const raised = view.alarms.find((alarm) => !alarm.acknowledged && areaOf(alarm) === 'page');
  if (raised !== undefined && state.connection !== 'lost') {
    return <AlarmPage {...shared} info={view.info} alarm={raised} />;
  }
  return <RunPage {...shared} info={view.info} noted={noted} onNewRun={() => setChoosing(true)} />;
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
  readonly moment: ReturnType<typeof momentOf>;
  readonly asks: Asks;
  readonly trouble: string | null;
  readonly onTroubleRead: () => void;
  readonly isSoundOn: boolean;
}

/** Rings for the worst alarm that nobody has seen or quietened; chimes once for a cue or a notice. */
function useRinging(sound: Sound, view: View, wanted: Urgency | null): void {
  const newest = newestNotice(view);
  const chimedFor = useRef(newest);
  useEffect(() => sound.ring(wanted), [sound, wanted]);
  useEffect(() => {
    if (newest > chimedFor.current && wanted === null) sound.chime();
    chimedFor.current = newest;
  }, [sound, newest, wanted]);
  useEffect(() => () => sound.ring(null), [sound]);
}

function urgencyOf(view: View, nowMs: number): Urgency | null {
  const loud = view.alarms.filter((alarm) => !alarm.acknowledged && (alarm.quietUntilMs ?? 0) <= nowMs);
  if (loud.some((alarm) => alarm.severity === 'critical')) return 'critical';
  return loud.some((alarm) => alarm.severity === 'warning') ? 'warning' : null;
}

/** Moment of the newest cue or notice; 0 where there is none. */
function newestNotice(view: View): number {
  const notices = view.alarms.filter((alarm) => alarm.severity === 'notice').map((alarm) => alarm.raisedAtMs);
  return Math.max(0, view.cue?.atMs ?? 0, ...notices);
}
