/**
 * Faults that show when the pieces have rested, the causes the trade gives for each, and which of those the run's own curve speaks for.
 * Knows no words. A cause that no thermometer can see is neither for nor against.
 */
import type { Outcome } from '../server/core/record/card.ts';
import type { Account } from '../server/core/show/account.ts';

export const FAULTS = ['fat-bloom', 'sugar-bloom', 'streaks', 'dull', 'soft', 'no-release', 'weak-snap'] as const;
export type Fault = (typeof FAULTS)[number];

export const CAUSES = [
  'not-cooled',
  'too-short-seeding',
  'over-ceiling',
  'too-cool-work',
  'unseen',
  'badly-mixed',
  'slow-setting',
  'cold-setting',
  'short-setting',
  'moist-air',
  'damp-mould',
  'dirty-mould',
  'warm-store',
  'fat-moving',
] as const;
export type Cause = (typeof CAUSES)[number];

/** Where it is said that this causes that. `craft`: common practice, no source. */
export type CauseSource = 'craft' | 'lonchampt-hartel-2006';

export interface LikelyCause {
  readonly cause: Cause;
  readonly source: CauseSource;
  /** What the curve says of it: `speaks`: it happened in this run; `silent`: it did not; `blind`: no curve shows it. */
  readonly curve: 'speaks' | 'silent' | 'blind';
}

/**
 * Usual causes by fault, the usual one first. Common practice, no source, as all craft tables we know of agree; that bloom comes of poor temper
 * is also Lonchampt and Hartel, "Surface bloom on improperly tempered chocolate" (2006).
 */
const USUAL: Readonly<Record<Fault, readonly Cause[]>> = {
  'fat-bloom': ['not-cooled', 'too-short-seeding', 'over-ceiling', 'slow-setting', 'warm-store', 'fat-moving'],
  'sugar-bloom': ['moist-air', 'damp-mould', 'cold-setting'],
  streaks: ['not-cooled', 'too-short-seeding', 'badly-mixed'],
  dull: ['too-cool-work', 'cold-setting', 'dirty-mould', 'over-ceiling'],
  soft: ['not-cooled', 'over-ceiling', 'too-short-seeding', 'unseen'],
  'no-release': ['not-cooled', 'over-ceiling', 'short-setting', 'dirty-mould'],
  'weak-snap': ['not-cooled', 'over-ceiling', 'too-short-seeding'],
};

const TEMPER_CAUSES: readonly Cause[] = ['not-cooled', 'too-short-seeding', 'over-ceiling'];

/** The faults that were marked. What was not looked at is none. */
export function faultsOf(outcome: Outcome): readonly Fault[] {
  const found: Readonly<Record<Fault, boolean>> = {
    'fat-bloom': outcome.fatBloom === true,
    'sugar-bloom': outcome.sugarBloom === true,
    streaks: outcome.streaks === true,
    dull: outcome.gloss === 'dull',
    soft: outcome.soft === true,
    'no-release': outcome.release === 'sticks',
    'weak-snap': outcome.snap === 'weak' || outcome.snap === 'bends',
  };
  return FAULTS.filter((fault) => found[fault]);
}

/** The usual causes of a fault; those this run's curve speaks for come first, those it speaks against last. */
export function causesOf(fault: Fault, account: Account): readonly LikelyCause[] {
  const weighed = USUAL[fault].map((cause): LikelyCause => {
    const isPublished = fault === 'fat-bloom' && TEMPER_CAUSES.includes(cause);
    return { cause, source: isPublished ? 'lonchampt-hartel-2006' : 'craft', curve: curveOn(cause, account) };
  });
  const order = { speaks: 0, blind: 1, silent: 2 };
  return weighed.toSorted((a, b) => order[a.curve] - order[b.curve]);
}

/** Long enough outside to matter to a batch, s, and a share of the work too cool to be called warm (ours). */
const MATTERS_S = 30;
const MOSTLY = 0.5;

function curveOn(cause: Cause, account: Account): LikelyCause['curve'] {
  const coolings = account.stays.filter(({ heading }) => heading === 'down');
  const said = (happened: boolean): LikelyCause['curve'] => (happened ? 'speaks' : 'silent');
  switch (cause) {
    case 'not-cooled':
      // One that was never cooled at all has no seed either, unless it was begun in temper.
      if (coolings.length === 0) return account.stays.some(({ heading }) => heading === 'up') ? 'speaks' : 'blind';
      return said(coolings.some(({ reached }) => !reached));
    case 'too-short-seeding':
      return said(coolings.some(({ reached, keptS, holdS }) => reached && keptS < holdS));
    case 'over-ceiling':
      return said(account.overS >= MATTERS_S);
    case 'too-cool-work':
      return said(account.workReadS > 0 && account.lowHalfS > MOSTLY * account.workReadS);
    case 'unseen':
      return said(account.unseenS >= MATTERS_S);
    default:
      return 'blind';
  }
}
