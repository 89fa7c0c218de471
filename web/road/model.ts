/**
 * What the road is drawn from: everything the page knows that belongs on the map, and nothing about pixels or canvases.
 * The page builds one of these per redraw; the same model makes the picture and the words for a screen reader.
 */
import type { Estimate, FanBead } from '../../server/core/bowl/estimate.ts';
import type { Profile } from '../../server/core/record/profile.ts';
import type { ChartPicture } from '../chart.ts';
import type { Curve } from '../curve.ts';
import type { Places } from './labels.ts';
import type { Metrics, Size } from './metrics.ts';
import type { Pen } from './pen.ts';
import type { Easel } from './picture.ts';
import type { Sheet } from './sheet.ts';

export interface RoadModel {
  readonly profile: Profile;
  /** Phases in the order they were entered; the same phase may come again. Empty: none yet, the first panel lies open. */
  readonly phases: readonly PhaseVisit[];
  readonly curve: Curve;
  /** Feed clock at the run's start; elapsed time counts from here. */
  readonly startedAtMs: number;
  /** Feed clock of the moment shown as now: live time, the play head, or the run's end. */
  readonly nowMs: number;
  /** stale: the last value must not look live. over: the run ended at `nowMs`, and has no head. playback: a stored run with its head at `nowMs`. */
  readonly live: 'live' | 'stale' | 'over' | 'playback';
  readonly estimate: Estimate | null;
  /** The forecast, nearest bead first; empty: none is drawn. */
  readonly fan: readonly FanBead[];
  readonly marks: readonly Mark[];
  readonly window: RoadWindow;
  /** The page stands in alarm colours, so the ground does too. */
  readonly alarm: boolean;
  /** The forecast is not to be trusted to the bead (unstirred, at the wall, just learned again): edges only. Absent: false. */
  readonly uncertain?: boolean;
  /** At an act-now cue: where it goes if nothing is done. Absent: no fork. */
  readonly leftOn?: readonly FanBead[];
  /** Where a stored run ends, feed clock; absent: at `nowMs`. Only `all` and playback look past `nowMs`. */
  readonly endedAtMs?: number;
  /** What the profile's best runs did, drawn behind the curve. Absent: not wanted, or not known. */
  readonly envelope?: DrawnEnvelope | undefined;
  /** Shows every window but the one that follows; without it the road follows. */
  readonly otherViews?: OtherViews | null | undefined;
}

/** The lowest and highest estimate of several runs, °C. */
export type Spread = readonly [lowC: number, highC: number];

export interface Envelope {
  /** Length of a step, ms. */
  readonly stepMs: number;
  /** By the phase's id, step by step from the entry of that phase; null: nothing was read then. */
  readonly phases: Readonly<Record<string, readonly (Spread | null)[]>>;
}

/** Brings its own drawing: few look at it, and the road of all others needs none of that. */
export interface DrawnEnvelope extends Envelope {
  readonly paint: (pen: Pen, model: RoadModel, sheet: Sheet) => void;
  readonly name: (pen: Pen, model: RoadModel, sheet: Sheet, places: Places) => void;
}

/** Brings the drawing of all that the last minutes need nothing of. It belongs to one road: it remembers what that has drawn. */
export interface OtherViews {
  readonly layOut: (model: RoadModel, size: Size, metrics: Metrics, slideMs: number) => Sheet;
  /** Of the unfolded map. */
  readonly picture: (easel: Easel) => ChartPicture;
}

/** One stay in a phase. */
export interface PhaseVisit {
  /** Its id in the profile. */
  readonly phase: string;
  readonly enteredAtMs: number;
  /** null: still in it. */
  readonly leftAtMs: number | null;
}

export interface Mark {
  readonly kind: 'note' | 'alarm' | 'act' | 'cue';
  readonly atMs: number;
  /** Where it is about a span: the moment that ends it. */
  readonly untilMs?: number;
  readonly text: string;
}

export type RoadWindow =
  /** The present phase lies open and slides with now; the others are folded. */
  | { readonly kind: 'follow' }
  /** So much of the past, sliding with now. */
  | { readonly kind: 'last'; readonly backMs: number }
  /** A held view; feed clock. */
  | { readonly kind: 'span'; readonly fromMs: number; readonly toMs: number }
  /** Every panel unfolded flat, elapsed time along the foot. */
  | { readonly kind: 'all' };
