/** Sizes of everything on the map for a given box, CSS px. One place, so that phone, tablet and wall agree with each other. */

export interface Size {
  readonly width: number;
  readonly height: number;
}

export interface Metrics {
  /** Phone-like: one fold either side at most, names turned. */
  readonly narrow: boolean;
  readonly railH: number;
  readonly axisH: number;
  readonly gutterW: number;
  readonly foldW: number;
  readonly turnedFoldW: number;
  readonly comingW: number;
  readonly moreW: number;
  /** How far the top and foot of a folded panel slant. */
  readonly slant: number;
  readonly inset: number;
  readonly text: TextSizes;
  readonly traceW: number;
  readonly ringR: number;
  readonly ringW: number;
  /** Everything that is neither text nor box grows by this. */
  readonly scale: number;
}

export interface TextSizes {
  readonly tab: number;
  readonly rail: number;
  readonly level: number;
  readonly label: number;
  readonly axis: number;
  readonly now: number;
  readonly note: number;
  readonly fold: number;
}

/** Narrower than this is laid out as on a phone (ours). */
const NARROW_BELOW = 520;
/** Lower than this there is no rail: the page says the phase elsewhere (ours). */
const NO_RAIL_BELOW = 260;
/** The least box the sizes were drawn for: with the sound's bar under it. */
const REFERENCE: Size = { width: 686, height: 360 };
const LARGEST_SCALE = 1.8;

const NARROW: Metrics = {
  narrow: true,
  railH: 30,
  axisH: 30,
  gutterW: 52,
  foldW: 26,
  turnedFoldW: 26,
  comingW: 40,
  moreW: 0,
  slant: 8,
  inset: 10,
  text: { tab: 17, rail: 15.5, level: 17, label: 16, axis: 15.5, now: 17, note: 17, fold: 15.5 },
  traceW: 5,
  ringR: 12,
  ringW: 6.5,
  scale: 0.85,
};

const ROOMY: Metrics = {
  narrow: false,
  railH: 38,
  axisH: 36,
  gutterW: 66,
  foldW: 60,
  turnedFoldW: 44,
  comingW: 80,
  moreW: 34,
  slant: 12,
  inset: 14,
  text: { tab: 22, rail: 19, level: 22, label: 20, axis: 19, now: 21, note: 23, fold: 16 },
  traceW: 6,
  ringR: 15,
  ringW: 8,
  scale: 1,
};

/** Sizes for a box; a small one is never shrunk below legibility, a large one grows up to nearly double. */
export function metricsFor(size: Size): Metrics {
  const base = size.width < NARROW_BELOW ? NARROW : grown(size);
  return size.height < NO_RAIL_BELOW ? low(base) : base;
}

/** On a low map trace and ring are this share of their size, so that the band is not hidden under them (ours). */
const LOW_SHARE = 0.75;

function low(metrics: Metrics): Metrics {
  const { traceW, ringR, ringW } = metrics;
  return { ...metrics, railH: 0, traceW: traceW * LOW_SHARE, ringR: ringR * LOW_SHARE, ringW: ringW * LOW_SHARE };
}

function grown(size: Size): Metrics {
  const k = Math.min(
    LARGEST_SCALE,
    Math.max(1, Math.min(size.width / REFERENCE.width, size.height / REFERENCE.height)),
  );
  const { narrow, text, ...lengths } = ROOMY;
  return { narrow, text: multiplied(text, k), ...multiplied(lengths, k) };
}

function multiplied<T extends object>(lengths: T, k: number): T {
  return Object.fromEntries(Object.entries(lengths).map(([name, length]) => [name, (length as number) * k])) as T;
}
