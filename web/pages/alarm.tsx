/** An alarm that has the page to itself until somebody has seen it: what to do, by how much, for how long, and the road behind it. */
import type { ActiveAlarm } from '../../server/core/show/view.ts';
import type { RunInfo } from '../../server/core/show/wire.ts';
import { Button } from '../controls/button.tsx';
import { NumberColumn } from '../controls/number.tsx';
import { RoadView } from '../controls/road-view.tsx';
import { isLiveNumber, roadMarks } from '../moment.ts';
import { alarmSentence } from '../words/alarm.ts';
import { alsoWords } from '../words/log.ts';
import { bound, span } from '../words/measure.ts';
import type { BowlProps } from './bowl.tsx';

export interface AlarmPageProps extends BowlProps {
  readonly info: RunInfo;
  readonly alarm: ActiveAlarm;
}

export function AlarmPage(props: AlarmPageProps) {
  const { state, moment, info, alarm, asks } = props;
  const words = alarmSentence(alarm, moment);
  const also = alsoWords(state.view);
  const quietS = alarm.quietUntilMs === null ? 0 : (alarm.quietUntilMs - moment.atMs) / 1000;
  return (
    <main class="alarm">
      <div class="alarm-frame" aria-hidden="true" />
      <div class="alarm-inside">
        <div role="alert">
          <h1 class="act">{words.act}</h1>
          <p class="detail" aria-live="off">
            {words.detail}
          </p>
        </div>
        <div class="body">
          <div class="left">
            <NumberColumn view={state.view} moment={moment} isLive={isLiveNumber(state)} simulated={info.simulated} />
            <p class="next-words">
              {words.next}
              {also !== null && <span class="also">{also}</span>}
            </p>
          </div>
          <RoadView
            model={{
              profile: info.profile,
              phases: state.view.visits,
              curve: state.curve,
              startedAtMs: info.startedAtMs,
              nowMs: moment.atMs,
              live: isLiveNumber(state) ? 'live' : 'stale',
              estimate: moment.estimate,
              fan: state.now?.fan ?? [],
              marks: roadMarks(state.view.marks),
              window: { kind: 'follow' },
              alarm: true,
            }}
          />
        </div>
        {props.trouble !== null && <p role="alert">{props.trouble}</p>}
        <footer class="controls">
          <Button onPress={() => asks.seen(alarm.alarm)} sign="seen" class="seen">
            {props.isSoundOn ? 'Seen' : 'Seen (silent)'}
          </Button>
          <Button onPress={() => asks.quiet(alarm.alarm)} sign="soundOff" class="quieten" disabled={quietS > 0}>
            {quietS > 0 ? `Quiet, ${span(quietS)}` : 'Quiet for 2 min'}
          </Button>
        </footer>
      </div>
      <p class="only-spoken">{alarm.limitC === null ? '' : `The limit is ${bound(alarm.limitC)} degrees.`}</p>
    </main>
  );
}
