/** An alarm that has the page to itself until somebody has seen it: what to do, by how much, for how long, and the road behind it. */
import type { ActiveAlarm } from '../../server/core/show/view.ts';
import type { RunInfo } from '../../server/core/show/wire.ts';
import { NumberColumn } from '../controls/number.tsx';
import { RoadView } from '../controls/road-view.tsx';
import { AlarmButtons } from '../controls/strips.tsx';
import { isLiveNumber } from '../moment.ts';
import { liveRoad } from '../outlook.ts';
import { troubleWords } from '../trouble.ts';
import { alarmSaid } from '../words/alarm.ts';
import { bound } from '../words/measure.ts';
import { atHand } from '../part.tsx';
import type { BowlProps } from './bowl.tsx';
import { STRIPS } from '../words/page.ts';

const LookingOnBar = atHand((part) => part.LookingOnBar);

export interface AlarmPageProps extends BowlProps {
  readonly info: RunInfo;
  readonly alarm: ActiveAlarm;
}

export function AlarmPage(props: AlarmPageProps) {
  const { state, moment, info, alarm, asks } = props;
  const words = alarmSaid(alarm, moment, state.view, info.profile);
  const also = troubleWords()?.alsoWords(state.view) ?? null;
  return (
    <main class="alarm">
      <div class="alarm-frame" aria-hidden="true" />
      <div class="alarm-inside">
        {props.others}
        <div role="alert">
          <h1 class="act">{words.act}</h1>
          <p class="detail" aria-live="off">
            {words.detail}
          </p>
        </div>
        <div class="body">
          <div class="left">
            <NumberColumn
              view={state.view}
              moment={moment}
              profile={info.profile}
              isLive={isLiveNumber(state)}
              simulated={info.simulated}
            />
            <p class="next-words">
              {words.next}
              {also !== null && <span class="also">{also}</span>}
            </p>
          </div>
          <RoadView model={liveRoad(state, moment, info, true)} />
        </div>
        {props.trouble !== null && <p role="alert">{props.trouble}</p>}
        {state.watchesOnly ? (
          <LookingOnBar />
        ) : (
          <footer class="controls">
            <AlarmButtons alarm={alarm} view={state.view} moment={moment} asks={asks} />
          </footer>
        )}
      </div>
      <p class="only-spoken">{alarm.limitC === null ? '' : STRIPS.limit(bound(alarm.limitC))}</p>
    </main>
  );
}
