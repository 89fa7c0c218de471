/** The number, and what makes it true or not: unit, trend, standing, age. An old number is hollow and says "was". */
import type { View } from '../../server/core/show/view.ts';
import { STANDING_NAME } from '../words/names.ts';
import { clock, degrees, span, trend } from '../words/measure.ts';
import type { Arrow } from '../words/measure.ts';
import type { Moment } from '../words/sentence.ts';
import { StandingIcon, TrendIcon } from './icons.tsx';

export interface NumberProps {
  readonly view: View;
  readonly moment: Moment;
  /** False wherever the value must not look live: stale, probe out, screen lost. */
  readonly isLive: boolean;
  readonly simulated: boolean;
}

/** Probe and chocolate apart by more than this is worth a word, °C (ours: the tenth where advice could change). */
const APART_C = 0.25;

export function BigNumber({ valueC, isLive }: { readonly valueC: number | null; readonly isLive: boolean }) {
  if (valueC === null) return <p class="number number-none">—</p>;
  const [whole, tenths] = degrees(valueC).split('.');
  return (
    <p class={isLive ? 'number' : 'number number-hollow'} aria-live="off">
      <span class="figures" aria-label={`${degrees(valueC)} degrees`} role="img">
        <span aria-hidden="true">
          {whole}
          <span class="mark">.</span>
          {tenths}
        </span>
      </span>
      <span class="unit" aria-hidden="true">
        °C
      </span>
    </p>
  );
}

export function NumberColumn(props: NumberProps) {
  const { view, moment, isLive } = props;
  return (
    <section class="number-column" aria-label="Reading">
      <BigNumber valueC={moment.reading?.valueC ?? null} isLive={isLive} />
      <TrendLine {...props} />
      {view.phase !== null && <StandingLine view={view} isKnown={isLive} />}
      <p class="age">{ageWords(props)}</p>
    </section>
  );
}

function TrendLine({ view, moment, isLive }: NumberProps) {
  const { arrow, words } = isLive ? trendOf(moment) : { arrow: 'none' as const, words: pastWords(view, moment) };
  return (
    <p class="trend">
      <TrendIcon arrow={arrow} /> {words}
    </p>
  );
}

function trendOf({ estimate }: Moment): { readonly arrow: Arrow | 'none'; readonly words: string } {
  return estimate === null ? { arrow: 'none', words: 'trend not known yet' } : trend(estimate.rateCPerMin);
}

/** In place of a trend where the value is not live. */
function pastWords(view: View, { reading, stale, probeOutSinceMs }: Moment): string {
  if (reading === null) return 'nothing read yet';
  if (probeOutSinceMs !== null && !stale) return 'not the chocolate';
  return `was ${degrees(reading.valueC)}${view.info === null ? '' : ` at ${clockOf(view, reading.atMs)}`}`;
}

export function StandingLine({ view, isKnown }: { readonly view: View; readonly isKnown: boolean }) {
  const standing = isKnown ? (view.standing?.standing ?? null) : null;
  return (
    <p class="standing">
      <StandingIcon standing={standing} />
      {standing === null ? 'Temper not known' : STANDING_NAME[standing]}
    </p>
  );
}

function ageWords({ moment, isLive, simulated }: NumberProps): string {
  const { reading, estimate } = moment;
  if (reading === null) return '';
  const ago = `${span((moment.atMs - reading.atMs) / 1000)} ago`.replaceAll(' ', '\u00a0');
  const read = `Read ${ago}`;
  if (moment.probeOutSinceMs !== null) return `${read}, out of the bowl`;
  if (!isLive) return `${read}. The gap stays a gap.`;
  const isApart = estimate !== null && Math.abs(estimate.tempC - reading.valueC) >= APART_C;
  const chocolate = isApart ? `; the chocolate about ${degrees(estimate.tempC)}` : '';
  return `${simulated ? 'Simulated' : read}${chocolate}`;
}

function clockOf(view: View, atMs: number): string {
  return view.info === null ? '' : clock(view.info.startedAtWall, view.info.startedAtMs, atMs);
}
