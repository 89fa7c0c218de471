/** The number, and what makes it true or not: unit, trend, standing, what is not sure of it, age. An old number is hollow and says "was". */
import type { FanBead } from '../../server/core/bowl/estimate.ts';
import type { Phase, Profile } from '../../server/core/record/profile.ts';
import type { View } from '../../server/core/show/view.ts';
import { isApart } from '../said-temperature.ts';
import { decimalMark, unitName, unitSign } from '../words/manner.ts';
import { clock, degrees, span, trend } from '../words/measure.ts';
import type { Arrow } from '../words/measure.ts';
import type { Moment } from '../words/sentence.ts';
import { hasStanding, maySayStanding } from '../words/standing.ts';
import { UNSURE_HINT, leftLine } from '../words/way.ts';
import { UnsureIcon, LeftIcon, TrendIcon } from './icons.tsx';
import { StandingLine } from './standing.tsx';
import { NUMBER } from '../words/page.ts';

export interface NumberProps {
  readonly view: View;
  readonly moment: Moment;
  readonly profile: Profile;
  /** False wherever the value must not look live: stale, probe out, screen lost. */
  readonly isLive: boolean;
  readonly simulated: boolean;
  /** Nobody has checked the thermometer. */
  readonly isUnchecked?: boolean;
  /** What comes of doing nothing, where the road forks: stands in the place of the standing while it does. */
  readonly leftOn?: readonly FanBead[] | null;
  readonly onAskStanding?: () => void;
}

/** Two figures, the mark and a tenth; more of them, in °F, take less room each. */
const USUAL_FIGURES = 4;

export function BigNumber({ valueC, isLive }: { readonly valueC: number | null; readonly isLive: boolean }) {
  if (valueC === null) return <p class="number number-none">—</p>;
  const words = degrees(valueC);
  const [whole, tenths] = words.split(decimalMark());
  const length = words.length > USUAL_FIGURES ? 'number-long' : '';
  return (
    <p class={`number ${length} ${isLive ? '' : 'number-hollow'}`} aria-live="off">
      <span class="figures" aria-label={`${words} ${unitName()}`} role="img">
        <span aria-hidden="true">
          {whole}
          <span class="mark">{decimalMark()}</span>
          {tenths}
        </span>
      </span>
      <span class="unit" aria-hidden="true">
        {unitSign()}
      </span>
    </p>
  );
}

export function NumberColumn(props: NumberProps) {
  const { view, moment, profile, isLive, leftOn = null } = props;
  const phase = profile.phases.find(({ id }) => id === view.phase);
  const isForked = leftOn !== null && phase !== undefined && moment.estimate !== null;
  return (
    <section class="number-column" aria-label={NUMBER.reading}>
      <BigNumber valueC={moment.reading?.valueC ?? null} isLive={isLive} />
      <TrendLine {...props} />
      {isForked ? (
        <LeftLine leftOn={leftOn} fromC={moment.estimate.tempC} phase={phase} />
      ) : (
        phase !== undefined &&
        hasStanding(profile) &&
        maySayStanding(view) && <StandingLine view={view} isKnown={isLive} onAsk={props.onAskStanding} />
      )}
      {isLive && moment.unsure !== null && (
        <p class="unsure">
          <UnsureIcon />
          {UNSURE_HINT[moment.unsure]}
        </p>
      )}
      <p class="age">{ageWords(props)}</p>
    </section>
  );
}

interface LeftLineProps {
  readonly leftOn: readonly FanBead[];
  readonly fromC: number;
  readonly phase: Phase;
}

function LeftLine({ leftOn, fromC, phase }: LeftLineProps) {
  return (
    <p class="standing">
      <LeftIcon />
      {leftLine(leftOn, fromC, phase)}
    </p>
  );
}

function TrendLine({ view, moment, isLive }: NumberProps) {
  // Once a run is over nobody reckons a trend any more.
  if (isLive && view.ended !== null && moment.estimate === null) return null;
  const { arrow, words } = isLive ? trendOf(moment) : { arrow: 'none' as const, words: pastWords(view, moment) };
  return (
    <p class="trend">
      <TrendIcon arrow={arrow} /> {words}
    </p>
  );
}

function trendOf({ estimate, isRateUnknown }: Moment): { readonly arrow: Arrow | 'none'; readonly words: string } {
  return estimate === null || isRateUnknown === true
    ? { arrow: 'none', words: NUMBER.noTrend }
    : trend(estimate.rateCPerMin);
}

/** In place of a trend where the value is not live. */
function pastWords(view: View, { reading, stale, probeOutSinceMs }: Moment): string {
  if (reading === null) return NUMBER.nothing;
  if (probeOutSinceMs !== null && !stale) return NUMBER.notChocolate;
  return NUMBER.was(degrees(reading.valueC), clockOf(view, reading.atMs));
}

function ageWords({ view, moment, isLive, simulated, isUnchecked = false }: NumberProps): string {
  const { reading, estimate } = moment;
  if (reading === null) return '';
  const read = NUMBER.read(span((moment.atMs - reading.atMs) / 1000));
  if (moment.probeOutSinceMs !== null) return read + NUMBER.outOfBowl;
  // Where a run is over none is left behind.
  if (!isLive) return view.ended === null ? read + NUMBER.gap : read;
  const is = simulated ? NUMBER.simulated : read;
  if (estimate !== null && isApart(moment)) return is + NUMBER.chocolate(degrees(estimate.tempC));
  // Both have no room on a phone; near the work, where half a degree counts, they are seldom apart.
  return is + (isUnchecked && !simulated ? NUMBER.unchecked : '');
}

function clockOf(view: View, atMs: number): string {
  return view.info === null ? '' : clock(view.info.startedAtWall, view.info.startedAtMs, atMs);
}
