/** What is written on the map itself: names of its bounds, times along its foot, the few words on folds and marks. Short; room is scarce. */

/** Bounds, each written along its own line. */
export const BOUND_NAME = {
  lost: 'Temper lost',
  scorch: 'Scorch ceiling',
  ceiling: 'Ceiling',
  tooCoolToDip: 'Too cool to dip',
  tooCool: 'Too cool',
} as const;

export const ON_MAP = {
  noReading: 'no reading',
  offNow: (value: string): string => `off now: ${value}`,
  notes: (count: number): string => `${count} notes`,
  moreThan: (span: string): string => `more than ${span}`,
  orMore: (span: string): string => `${span}+`,
  soFar: (span: string): string => `${span} so far`,
  between: (from: string, to: string): string => `${from} to ${to}`,
  /** Over the band a folded phase leads to. */
  to: 'to',
  andMore: (phases: number): string => `and ${phases} more`,
  /** Beside the envelope of the runs that were judged good. */
  best: 'your best runs',
  next: (phase: string): string => `then ${phase.toLowerCase()}`,
} as const;

/** Times along the foot. Of several only the outermost names the unit: "15 min ago, 10, 5, now, 3, 6 min". */
export const FOOT = {
  now: 'now',
  ago: (minutes: number): string => `${minutes} min ago`,
  ahead: (minutes: number): string => `in ${minutes} min`,
  minutes: (minutes: number): string => `${minutes} min`,
  /** The same without its unit, where there is no room for it. */
  withoutUnit: (words: string): string => words.replace(/ min$/, ''),
} as const;
