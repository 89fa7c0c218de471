/** What the number was at the head of playback, where the run stood then, and how the temper did. */
import { useState } from 'preact/hooks';
import type { View } from '../../../server/core/show/view.ts';
import { BigNumber } from '../../controls/number.tsx';
import { StandingLine } from '../../controls/standing.tsx';
import { StandingSheet } from '../../controls/standing-sheet.tsx';
import type { OpenedRun } from '../../fetched.ts';
import { clock, trend } from '../../words/measure.ts';
import { phaseName } from '../../words/names.ts';
import { PAST } from '../../words/past.ts';
import type { Moment } from '../../words/sentence.ts';
import { hasStanding } from '../../words/standing.ts';

export interface HeadNumberProps {
  readonly run: OpenedRun;
  readonly moment: Moment;
  readonly view: View;
}

export function HeadNumber({ run, moment, view }: HeadNumberProps) {
  const { info } = run;
  const [isAsking, setAsking] = useState(false);
  const isOver = view.ended !== null;
  const phase = view.phase === null ? '' : `, ${phaseName(view.phase).toLowerCase()}`;
  const going = moment.estimate === null || isOver ? '' : `, ${trend(moment.estimate.rateCPerMin).words}`;
  const at = clock(info.startedAtWall, info.startedAtMs, moment.atMs);
  return (
    <div class="head-number">
      <BigNumber
        valueC={moment.reading?.valueC ?? null}
        isLive={!isOver && !moment.stale && moment.probeOutSinceMs === null}
      />
      <p>
        {isOver ? PAST.ended(at) : PAST.at(at)}
        {phase}
        {going}
      </p>
      {hasStanding(info.profile) && <StandingLine view={view} isKnown={!moment.stale} onAsk={() => setAsking(true)} />}
      {isAsking && (
        <StandingSheet
          view={view}
          isKnown={!moment.stale}
          moment={moment}
          profile={info.profile}
          onClose={() => setAsking(false)}
        />
      )}
    </div>
  );
}
