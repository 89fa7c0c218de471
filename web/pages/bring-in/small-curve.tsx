/** The curve of a table that has not been taken in yet, as a line without figures: enough to see whether it was read as it was meant. */

interface SmallCurveProps {
  /** Seconds, °C; two or more. */
  readonly points: readonly (readonly [number, number])[];
}

/** The line's own field; it is stretched to where it stands. */
const WIDTH = 600;
const HEIGHT = 100;

export function SmallCurve({ points }: SmallCurveProps) {
  const lasted = points.at(-1)![0] - points[0]![0] || 1;
  const values = points.map(([, valueC]) => valueC);
  const low = Math.min(...values);
  const high = Math.max(...values, low + 1);
  const at = ([s, valueC]: readonly [number, number]): string => {
    const x = ((s - points[0]![0]) / lasted) * WIDTH;
    const y = HEIGHT - 4 - ((valueC - low) / (high - low)) * (HEIGHT - 8);
    return `${x.toFixed(1)} ${y.toFixed(1)}`;
  };
  return (
    <svg class="bring-curve" viewBox={`0 0 ${WIDTH} ${HEIGHT}`} preserveAspectRatio="none" aria-hidden="true">
      <path d={`M${points.map(at).join('L')}`} />
    </svg>
  );
}
