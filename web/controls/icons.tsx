/** The few drawings beside words: arrows, marks, button signs. Always next to a word, so hidden from screen readers. */
import type { Arrow } from '../words/measure.ts';
import type { Arm } from '../words/sentence.ts';
import type { Standing } from '../../server/core/record/event.ts';

/** What a button shows beside its word. */
export interface Sign {
  /** Path data on a field of 24 by 24. */
  readonly path: string;
  /** Filled, not drawn along its edges. */
  readonly isSolid?: boolean;
}

/** Those that a run needs; `more-signs.ts` has the others. */
export const SIGN = {
  note: { path: 'M7 21V4l12 4-12 4' },
  next: { path: 'M4 12h15M13 6l6 6-6 6' },
  end: { path: 'M6 6h12v12H6z' },
  more: { path: 'M4 6h16M4 12h16M4 18h16' },
  seen: { path: 'M4 13l5 5L20 6' },
  soundOn: { path: 'M4 9v6h4l5 4V5L8 9zM16 9q2 3 0 6M18.500 6.500q4 5.500 0 11' },
  soundOff: { path: 'M4 9v6h4l5 4V5L8 9zM16.500 9.500l5 5M21.500 9.500l-5 5' },
  locked: { path: 'M5 11h14v9H5zM8 11V8a4 4 0 0 1 8 0v3' },
} as const satisfies Readonly<Record<string, Sign>>;

export function SignIcon({ sign: { path, isSolid = false } }: { readonly sign: Sign }) {
  return (
    <svg class={isSolid ? 'sign sign-solid' : 'sign'} viewBox="0 0 24 24" aria-hidden="true">
      <path d={path} />
    </svg>
  );
}

const TREND_PATH: Readonly<Record<Arrow | 'none', string>> = {
  level: 'M2 12h18M12 4l8 8-8 8',
  up: 'M4 20L19 5M7 5h12v12',
  down: 'M4 4l15 15M19 7v12H7',
  none: 'M4 4l16 16M20 4L4 20',
};

/** The way it is going; a cross where that is not known. */
export function TrendIcon({ arrow }: { readonly arrow: Arrow | 'none' }) {
  return (
    <svg class="trend-arrow" viewBox="0 0 24 24" aria-hidden="true">
      <path d={TREND_PATH[arrow]} />
    </svg>
  );
}

/** Full disc in temper, half disc at risk, empty barred ring lost, dotted ring not yet or not known. */
export function StandingIcon({ standing }: { readonly standing: Standing | null }) {
  return (
    <svg class={`standing-mark standing-${standing ?? 'none'}`} viewBox="0 0 24 24" aria-hidden="true">
      {standing === 'in-temper' && <circle class="disc" cx="12" cy="12" r="10" />}
      {standing === 'at-risk' && <path class="disc" d="M12 2a10 10 0 0 1 0 20z" />}
      {standing === 'at-risk' && <circle class="ring" cx="12" cy="12" r="9.5" />}
      {standing === 'lost' && <path class="ring" d="M5.500 18.500l13-13" />}
      {standing === 'lost' && <circle class="ring" cx="12" cy="12" r="9.5" />}
      {(standing === null || standing === 'not-made-yet' || standing === 'unproven') && (
        <circle class="ring ring-dotted" cx="12" cy="12" r="9.5" />
      )}
    </svg>
  );
}

const ARM_PATH: Readonly<Record<Arm, string>> = {
  up: 'M24 42V8M9 22L24 7l15 15',
  down: 'M24 6v34M9 26l15 15 15-15',
  left: 'M42 24H8M22 9L7 24l15 15',
  ring: 'M38 30a16 16 0 1 1 1-11M40 6v14H26',
};

/** Which way the bowl goes: up off the heat, down onto it, left out of the cold; the ring means stir. */
export function ArmIcon({ arm }: { readonly arm: Arm }) {
  return (
    <svg class="arm-arrow" viewBox="0 0 48 48" aria-hidden="true">
      <path d={ARM_PATH[arm]} />
    </svg>
  );
}

/** The dashed line of the fork. */
export function LeftIcon() {
  return (
    <svg class="standing-mark" viewBox="0 0 24 24" aria-hidden="true">
      <path class="ring left-dashes" d="M3 21L21 3" />
    </svg>
  );
}

/** Stirring, small. */
export function UnsureIcon() {
  return (
    <svg class="unsure-mark" viewBox="0 0 48 48" aria-hidden="true">
      <path d={ARM_PATH.ring} />
    </svg>
  );
}
