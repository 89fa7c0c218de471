/** After the work: how long it is left to set, then to rest. Counted by the card, so that every screen and a reload say the same. */
import { useEffect, useRef, useState } from 'preact/hooks';
import type { Setting, SettingPlace } from '../../server/core/record/card.ts';
import type { View } from '../../server/core/show/view.ts';
import type { RunInfo } from '../../server/core/show/wire.ts';
import { isTimed, restOf, SETTING_MINUTES, wallAt, wasWorked } from '../setting.ts';
import type { Rest } from '../setting.ts';
import { speaker } from '../sound/speaker.ts';
import { useCard, useServerClock } from '../use-card.ts';
import type { CardHold } from '../use-card.ts';
import { bound, clock, countdown } from '../words/measure.ts';
import { unitSign } from '../words/manner.ts';
import { OUTCOME_CHOICES, PLACE_NAME, SETTING } from '../words/outcome.ts';
import { Button } from './button.tsx';
import { Sheet } from './sheet.tsx';
import '../style/outcome.css';
import { day } from '../words/day.ts';

/** A room that chocolate sets in, °C (design: the job, 8). */
const ROOM_C = [18, 20] as const;

export interface SettingBarProps {
  readonly info: RunInfo;
  readonly view: View;
  readonly endedAtMs: number;
}

/** On the page that says a run is over: by itself, with the way to judge it. */
export function SettingBar({ info, view, endedAtMs }: SettingBarProps) {
  const hold = useCard(info.run);
  const nowMs = useServerClock(hold.held);
  if (hold.held === null) return null;
  const { setting, outcome } = hold.held.card;
  const rest = restOf(setting, wallAt(info, endedAtMs), nowMs);
  const judged = outcome !== null && <p>{SETTING.judged(OUTCOME_CHOICES.verdict[outcome.verdict])}</p>;
  if (judged !== false && !isTimed(setting, rest)) return <section class="step-bar setting-bar">{judged}</section>;
  if (rest.kind === 'unsaid' && !wasWorked(info.profile, view.visits)) return null;
  const judge = rest.kind !== 'unsaid' && rest.kind !== 'setting' && (
    <a class="button button-plain" href={`#/runs/${encodeURIComponent(info.run)}`}>
      <span class="button-word">{SETTING.judgeOnPage}</span>
    </a>
  );
  return (
    <section class="step-bar setting-bar" aria-label={SETTING.title}>
      <SettingSteps rest={rest} hold={hold} nowMs={nowMs} />
      {judged === false ? judge : judged}
    </section>
  );
}

export interface SettingStepsProps {
  readonly rest: Rest;
  readonly hold: CardHold;
  /** The server's clock. */
  readonly nowMs: number;
}

export function SettingSteps({ rest, hold, nowMs }: SettingStepsProps) {
  const [isChoosing, setChoosing] = useState(false);
  const setting = hold.held?.card.setting ?? null;
  useSound(rest);
  const write = (next: Setting | null): void => {
    setChoosing(false);
    void hold.write({ setting: next }, null);
  };
  const start = (place: SettingPlace, minutes: number): void =>
    write({ place, minutes, startedAtWall: new Date(nowMs).toISOString() });
  return (
    <>
      <div class="setting-words">
        <RestWords rest={rest} setting={setting} />
      </div>
      {rest.kind === 'setting' && <progress max={1} value={rest.share} aria-hidden="true" />}
      {(rest.kind === 'unsaid' || rest.kind === 'setting') && (
        <Button onPress={() => setChoosing(true)} look={rest.kind === 'unsaid' ? 'solid' : 'plain'}>
          {rest.kind === 'unsaid' ? SETTING.timer : SETTING.otherTimer}
        </Button>
      )}
      {hold.trouble !== null && <p role="alert">{hold.trouble}</p>}
      {isChoosing && (
        <Sheet title={SETTING.leave} isSmall onClose={() => setChoosing(false)}>
          <TimerChoices onStart={start} onStop={setting === null ? null : () => write(null)} />
        </Sheet>
      )}
    </>
  );
}

function RestWords({ rest, setting }: { readonly rest: Rest; readonly setting: Setting | null }) {
  if (rest.kind === 'unsaid') return <Said act={SETTING.leave} detail={howLong()} />;
  if (rest.kind === 'rested') return <Said act={SETTING.rested} detail={SETTING.toJudge} />;
  if (rest.kind === 'setting') {
    const place = PLACE_NAME[setting?.place ?? 'room'];
    return (
      <Said
        act={SETTING.going(countdown(rest.leftS))}
        detail={SETTING.until(place, clockAt(rest.untilMs))}
        isCounting
      />
    );
  }
  const when = SETTING.moment(day(iso(rest.restedAtMs)), clockAt(rest.restedAtMs));
  if (setting === null) return <Said act={SETTING.resting} detail={SETTING.restUntil(when)} />;
  return <Said act={SETTING.isSet} detail={SETTING.rest(when)} />;
}

/** Spoken when it changes, but not each second of a countdown. */
function Said(props: { readonly act: string; readonly detail: string; readonly isCounting?: boolean }) {
  return (
    <p role={props.isCounting === true ? 'timer' : 'status'}>
      <b>{props.act}</b> {props.detail}
    </p>
  );
}

interface TimerChoicesProps {
  readonly onStart: (place: SettingPlace, minutes: number) => void;
  /** null: none is going. */
  readonly onStop: (() => void) | null;
}

function TimerChoices({ onStart, onStop }: TimerChoicesProps) {
  return (
    <div class="timer-choices">
      {(Object.keys(SETTING_MINUTES) as SettingPlace[]).map((place) => (
        <MinuteChoices key={place} place={place} onStart={onStart} />
      ))}
      {onStop !== null && <Button onPress={onStop}>{SETTING.offTimer}</Button>}
      <ul>
        {SETTING.cautions.map((caution) => (
          <li key={caution}>{caution}</li>
        ))}
      </ul>
      <p class="quiet">{SETTING.timesOurs}</p>
    </div>
  );
}

function MinuteChoices({ place, onStart }: Pick<TimerChoicesProps, 'onStart'> & { readonly place: SettingPlace }) {
  const title = place === 'room' ? SETTING.inRoom(roomWords()) : PLACE_NAME[place];
  return (
    <section aria-label={title}>
      <h3>{title}</h3>
      <div class="timer-minutes">
        {SETTING_MINUTES[place].map((minutes) => (
          <Button key={minutes} onPress={() => onStart(place, minutes)}>
            {SETTING.minutes(minutes)}
          </Button>
        ))}
      </div>
    </section>
  );
}

/** One round of the calm voice when the timer runs out while this screen looks on. */
function useSound(rest: Rest): void {
  const before = useRef(rest.kind);
  useEffect(() => {
    if (before.current === 'setting' && rest.kind === 'resting') speaker.play('cue');
    before.current = rest.kind;
  }, [rest.kind]);
}

function howLong(): string {
  const [air, room] = [SETTING_MINUTES['cool-air'], SETTING_MINUTES.room].map((minutes) =>
    SETTING.between(Math.min(...minutes), Math.max(...minutes)),
  );
  return SETTING.howLong(air!, room!, roomWords());
}

function roomWords(): string {
  return SETTING.room(bound(ROOM_C[0]), bound(ROOM_C[1]), unitSign());
}

function clockAt(wallMs: number): string {
  return clock(iso(wallMs), 0, 0);
}

function iso(wallMs: number): string {
  return new Date(wallMs).toISOString();
}
