/** The published shape of an estimate: what the chocolate is, and where the present heat will carry it. */

/**
 * What is printed by `--estimates S` and shown live. Temperatures are rounded to 0.01 °C, rates to 0.01 °C/min, times to whole seconds.
 */
export interface Estimate {
  readonly kind: 'estimate';
  readonly atMs: number;
  readonly phase: string | null;
  /** The chocolate, not the lagging probe, °C. */
  readonly tempC: number;
  readonly rateCPerMin: number;
  /** Seconds until the near edge of the phase's band on this course; 0: there; null: not on this course. */
  readonly etaS: number | null;
  /** 80 % interval of `etaS`; null with it (the high end alone is null where the course may level off before). */
  readonly etaLowS: number | null;
  readonly etaHighS: number | null;
  /** The extreme that the present heat will carry it to, °C. */
  readonly peakC: number | null;
}

/**
 * How well the reading stands for the whole bowl. `unstirred`: it hardly stirs at all, so it says nothing about the rest of the bowl;
 * `at-the-wall`: it goes as only a tip against the warm or cold wall does.
 */
export type Mixing = 'stirred' | 'unstirred' | 'at-the-wall';

/** One bead of the forecast fan: median and 80 % band, °C, `inS` seconds from now. */
export interface FanBead {
  readonly inS: number;
  readonly lowC: number;
  readonly medianC: number;
  readonly highC: number;
}
