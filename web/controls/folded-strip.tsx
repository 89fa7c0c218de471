/** A run's curve as a small folded map: for lists, where a glance says which run it was. One fold for each phase as it went, with its lane. */
import type { Band, Phase } from '../../server/core/record/profile.ts';
import type { Tile } from '../../server/core/show/wire.ts';
import { stripFolds } from '../road/strip-folds.ts';
import type { StripFold, StripVisit } from '../road/strip-folds.ts';
import { stripPath, stripSpan } from '../road/strip.ts';

const WIDTH = 392;
const HEIGHT = 66;
/** Folds alternate in height by this much, px of the drawing. */
const SLANT = 7;
/** Room above and below the curve, px of the drawing, so that its edge is never cut. */
const INSET = 13;
const INNER = HEIGHT - 2 * INSET;
/** A run that hardly moved is still drawn over so many degrees, °C. */
const LEAST_C = 1;
/** A band is never thinner than this, px of the drawing: it must be seen as a lane. */
const LANE_LEAST = 5;

export interface FoldedStripProps {
  readonly tiles: readonly Tile[];
  /** Phases as they were entered, oldest first. */
  readonly visits: readonly StripVisit[];
  /** Feed clock; null while it is going. */
  readonly endedAtMs: number | null;
  /** Those of the profile; none where it is no longer known: then no lane is drawn. */
  readonly phases: readonly Phase[];
}

export function FoldedStrip({ tiles, visits, endedAtMs, phases }: FoldedStripProps) {
  const span = stripSpan(tiles, visits, endedAtMs);
  const folds = stripFolds(span, visits, WIDTH);
  const bandOf = ({ phase }: StripFold): Band | null => phases.find(({ id }) => id === phase)?.bandC ?? null;
  const scale = scaleOf(tiles, folds.map(bandOf));
  const curve = scale === null ? '' : stripPath(tiles, { ...span, ...scale, width: WIDTH, height: INNER });
  return (
    <svg class="folded" viewBox={`0 0 ${WIDTH} ${HEIGHT}`} preserveAspectRatio="none" aria-hidden="true">
      {folds.map((fold, i) => (
        <path key={fold.left} class={i % 2 === 0 ? 'fold-a' : 'fold-b'} d={groundOf(fold, i)} />
      ))}
      <g transform={`translate(0 ${INSET})`}>
        {folds.map((fold) => (
          <Lane key={fold.left} fold={fold} bandC={bandOf(fold)} scale={scale} />
        ))}
        <path class="folded-edge" d={curve} />
        <path class="folded-curve" d={curve} />
      </g>
    </svg>
  );
}

interface Scale {
  readonly lowC: number;
  readonly highC: number;
}

function scaleOf(tiles: readonly Tile[], bands: readonly (Band | null)[]): Scale | null {
  const read = tiles.flatMap(([, low, high]) => (low === null || high === null ? [] : [low, high]));
  if (read.length === 0) return null;
  const all = [...read, ...bands.flatMap((band) => band ?? [])];
  const lowC = Math.min(...all);
  return { lowC, highC: Math.max(lowC + LEAST_C, ...all) };
}

function Lane(props: { readonly fold: StripFold; readonly bandC: Band | null; readonly scale: Scale | null }) {
  const { fold, bandC, scale } = props;
  if (bandC === null || scale === null) return null;
  const yOf = (valueC: number): number => ((scale.highC - valueC) / (scale.highC - scale.lowC)) * INNER;
  const height = Math.max(LANE_LEAST, yOf(bandC[0]) - yOf(bandC[1]));
  const y = (yOf(bandC[1]) + yOf(bandC[0]) - height) / 2;
  return <rect class="folded-lane" x={fold.left} y={y} width={fold.right - fold.left} height={height} />;
}

function groundOf({ left, right }: StripFold, i: number): string {
  const [a, b] = i % 2 === 0 ? [SLANT, 0] : [0, SLANT];
  return `M${left} ${a}L${right} ${b}V${HEIGHT - b}L${left} ${HEIGHT - a}Z`;
}
