/** What is counted over one run, in plain numbers; how each is meant stands in judge.ts. */

/** Everything counted over one run. */
export interface Tally {
  hours: number;
  readings: number;
  tookMs: number;
  phasesEntered: number;
  phasesWrong: number;
  followed: number;
  shouldFollow: number;
  overshoots: number;
  overshootsMissed: number;
  overshootDelaysS: number[];
  overshootsFalse: number;
  overshootsTold: number;
  leadShares: number[];
  aheadFalse: number;
  aheadWhereNeverOver: number;
  neverOver: number;
  offHeats: number;
  offHeatsInBand: number;
  undershoots: number;
  undershootsMissed: number;
  lost: number;
  lostTold: number;
  lostFalse: number;
  underCooled: number;
  underCooledTold: number;
  underCooledFalse: number;
  /** Share of the time left; 1 where none was given. */
  etaErrors: number[];
  /** The same without those. */
  etaErrorsGiven: number[];
  etaAsked: number;
  etaAnswered: number;
  etaInside: number;
  tempErrorsC: number[];
  wellHandled: number;
  alarmsWellHandled: Record<string, number>;
  wrong: string[];
}

export function emptyTally(): Tally {
  return {
    hours: 0,
    readings: 0,
    tookMs: 0,
    phasesEntered: 0,
    phasesWrong: 0,
    followed: 0,
    shouldFollow: 0,
    overshoots: 0,
    overshootsMissed: 0,
    overshootDelaysS: [],
    overshootsFalse: 0,
    overshootsTold: 0,
    leadShares: [],
    aheadFalse: 0,
    aheadWhereNeverOver: 0,
    neverOver: 0,
    offHeats: 0,
    offHeatsInBand: 0,
    undershoots: 0,
    undershootsMissed: 0,
    lost: 0,
    lostTold: 0,
    lostFalse: 0,
    underCooled: 0,
    underCooledTold: 0,
    underCooledFalse: 0,
    etaErrors: [],
    etaErrorsGiven: [],
    etaAsked: 0,
    etaAnswered: 0,
    etaInside: 0,
    tempErrorsC: [],
    wellHandled: 0,
    alarmsWellHandled: {},
    wrong: [],
  };
}
