/**
 * The other bowls, for whoever looks at one of them: a line each with what to do there, and their alarms, wherever in the page one is. Each
 * line says its bowl's name; what is seen there is seen of that bowl alone.
 */
import { useState } from 'preact/hooks';
import type { AlarmName } from '../../server/core/record/event.ts';
import type { Live, LiveState } from '../live.ts';
import type { Lives } from '../lives.ts';
import { carefulOf, isLiveNumber, momentOf } from '../moment.ts';
import { postCommand } from '../post.ts';
import type { Sound } from '../sound.ts';
import { useRinging } from '../sound/use-ringing.ts';
import { useLive } from '../use-live.ts';
import { useStripTest } from '../use-strip-test.ts';
import { alarmSaid, areaOf } from '../words/alarm.ts';
import { BENCH } from '../words/bench.ts';
import { bowlName } from '../words/bowl-name.ts';
import { degrees } from '../words/measure.ts';
import { linkSentence } from '../words/link.ts';
import { type Moment, sentence } from '../words/sentence.ts';
import { carefulSentence, waitingSentence } from '../words/idle.ts';
import { lostSentence } from '../words/states.ts';
import { hasStanding, standingName } from '../words/standing.ts';
import { Button } from './button.tsx';
import { SIGN } from './icons.tsx';

/** Rings for each of the other bowls. Nothing to be seen. */
export function OtherVoices({ lives, sound }: { readonly lives: Lives; readonly sound: Sound }) {
  return (
    <>
      {lives.others.map((live) => (
        <Voice key={live.bowl} live={live} sound={sound} />
      ))}
    </>
  );
}

function Voice({ live, sound }: { readonly live: Live; readonly sound: Sound }) {
  useRinging(sound, useLive(live), live.feedNowMs());
  return null;
}

export function OtherBowls({ lives }: { readonly lives: Lives }) {
  const { bowl, bowls, view } = lives.here.state();
  const here = bowlName(bowls, bowl);
  const isRaised = view.alarms.some((alarm) => !alarm.acknowledged);
  return (
    <nav class="bowls" aria-label={BENCH.bowls}>
      <p class="bowls-here" aria-current="page" role={isRaised ? 'alert' : undefined}>
        {here}
      </p>
      {lives.others.map((live) => (
        <OtherBowl key={live.bowl} live={live} name={bowlName(bowls, live.bowl)} />
      ))}
    </nav>
  );
}

function OtherBowl({ live, name }: { readonly live: Live; readonly name: string }) {
  const state = useLive(live);
  const [trouble, setTrouble] = useState<string | null>(null);
  const moment = momentOf(state, live.feedNowMs());
  const [test] = useStripTest(state.view, moment.atMs);
  const { info } = state.view;
  const href = `#/bowl/${encodeURIComponent(live.bowl ?? '')}`;
  const alarm = alarmOf(state, moment);
  if (alarm !== null) {
    const { raised } = alarm;
    const seen = async (name: AlarmName): Promise<void> => {
      const answer = await postCommand(live.bowl ?? '', { name: 'acknowledge', alarm: name });
      setTrouble(answer.ok ? null : answer.why);
    };
    return (
      <div class="bowls-alarm">
        <a href={href}>
          <b role="alert">{`${name}: ${alarm.act}`}</b> <span aria-live="off">{trouble ?? alarm.detail}</span>
        </a>
        {raised !== null && !state.watchesOnly && (
          <Button onPress={() => void seen(raised)} sign={SIGN.seen} class="button-low" label={BENCH.seenOf(name)}>
            {BENCH.seen}
          </Button>
        )}
      </div>
    );
  }
  const isBowlLive = isLiveNumber(state);
  return (
    <a class="bowls-other" href={href}>
      <b>{name}</b>
      <span class={isBowlLive ? 'bowls-figure' : 'bowls-figure quiet'}>
        {moment.reading === null
          ? '–'
          : isBowlLive
            ? degrees(moment.reading.valueC)
            : BENCH.was(degrees(moment.reading.valueC))}
      </span>
      <span class="bowls-act">{actOf(state, moment, test)}</span>
      {info !== null && state.view.ended === null && hasStanding(info.profile) && (
        <span class="quiet">{standingName(isBowlLive ? (state.view.standing?.standing ?? null) : null)}</span>
      )}
    </a>
  );
}

/** What would take its own page, or a band across it; `raised`: null where there is nothing to be seen yet but the chocolate nobody has named. */
function alarmOf(state: LiveState, moment: Moment) {
  const { info, alarms } = state.view;
  const careful = carefulOf(state);
  if (careful !== null && info === null) return { ...carefulSentence(careful, moment), raised: null };
  const raised = alarms.find((alarm) => !alarm.acknowledged && areaOf(alarm) !== 'words');
  if (info === null || raised === undefined || state.connection === 'lost') return null;
  return { ...alarmSaid(raised, moment, state.view, info.profile), raised: raised.alarm };
}

/** What its own page says first. */
function actOf(state: LiveState, moment: Moment, test: Parameters<typeof sentence>[3]): string {
  if (state.connection === 'lost') return lostSentence('').act;
  if (!state.isKnown || state.now === null) return BENCH.asking;
  const { info } = state.view;
  if (info !== null) return sentence(state.view, moment, info.profile, test).act;
  const { waitingFor } = state.now;
  if (waitingFor !== undefined) return waitingSentence(waitingFor).act;
  return linkSentence(state.now)?.act ?? BENCH.empty;
}
