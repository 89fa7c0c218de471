/**
 * The only door to the charting library: a canvas on which lines are drawn between fixed edges, with a hook to paint before
 * and after them. Knows nothing about chocolate; every switch that keeps a live chart cheap is set here.
 */
import { Chart, LineController, LineElement, LinearScale, PointElement } from 'chart.js';
import type { ChartConfiguration, ChartDataset, Plugin } from 'chart.js';

Chart.register(LineController, LineElement, LinearScale, PointElement);

/** A place on the two axes; NaN in `y` lifts the pen. */
export interface ChartPoint {
  x: number;
  y: number;
}

export interface ChartLine {
  readonly points: readonly ChartPoint[];
  readonly colour: string;
  /** CSS px; 0 hides it. */
  readonly width: number;
  /** Paints what lies right under it, over the lines before it. */
  readonly paintUnder?: (pen: CanvasRenderingContext2D) => void;
}

export interface ChartPicture {
  /** Where the axes lie on the canvas, CSS px from each edge. */
  readonly margins: { readonly left: number; readonly right: number; readonly top: number; readonly bottom: number };
  readonly x: readonly [left: number, right: number];
  readonly y: readonly [top: number, foot: number];
  /** Back to front. */
  readonly lines: readonly ChartLine[];
  readonly paintBefore: (pen: CanvasRenderingContext2D) => void;
  readonly paintAfter: (pen: CanvasRenderingContext2D) => void;
}

export interface RoadChart {
  /** Draws at once. */
  show(picture: ChartPicture): void;
  /** CSS px; the canvas itself gets as many device pixels as the screen has for them. */
  resize(width: number, height: number): void;
  destroy(): void;
}

type LineConfiguration = ChartConfiguration<'line', ChartPoint[]>;

/** An axis that only maps: its ticks are never seen, so none are worded. */
const AXIS = {
  type: 'linear',
  display: false,
  ticks: { count: 2, callback: () => '' },
} as const;

/** How the library is driven: nothing it could do by itself is left to it. */
export function chartConfiguration(plugin: Plugin<'line'>): LineConfiguration {
  return {
    type: 'line',
    data: { datasets: [] },
    plugins: [plugin],
    options: {
      parsing: false,
      normalized: true,
      animation: false,
      responsive: false,
      maintainAspectRatio: false,
      events: [],
      spanGaps: false,
      elements: {
        point: { radius: 0, hitRadius: 0 },
        line: { tension: 0, borderJoinStyle: 'round', borderCapStyle: 'butt', fill: false },
      },
      layout: { autoPadding: false },
      scales: {
        x: { ...AXIS, min: 0, max: 1 },
        y: { ...AXIS, min: 0, max: 1, reverse: true },
      },
    },
  };
}

export function createChart(canvas: HTMLCanvasElement): RoadChart {
  let picture: ChartPicture | null = null;
  let frame = '';
  const plugin: Plugin<'line'> = {
    id: 'road',
    beforeDatasetsDraw: (chart) => picture?.paintBefore(chart.ctx),
    beforeDatasetDraw: (chart, { index }) => picture?.lines[index]?.paintUnder?.(chart.ctx),
    afterDatasetsDraw: (chart) => picture?.paintAfter(chart.ctx),
  };
  const chart = new Chart(canvas, chartConfiguration(plugin));
  return {
    show(next) {
      picture = next;
      next.lines.forEach((line, i) => putLine(chart.data.datasets, line, i));
      if (frameOf(next) === frame) {
        for (const i of next.lines.keys()) renew(chart, i);
        chart.draw();
        return;
      }
      frame = frameOf(next);
      chart.options.layout = { autoPadding: false, padding: next.margins };
      const { x, y } = chart.options.scales as Record<'x' | 'y', { min: number; max: number }>;
      [x.min, x.max] = next.x;
      [y.min, y.max] = next.y;
      chart.data.datasets.length = next.lines.length;
      chart.update('none');
    },
    resize(width, height) {
      frame = '';
      chart.resize(width, height);
    },
    destroy: () => chart.destroy(),
  };
}

/** All of a picture but its points: while it stays, the library need lay nothing out anew, which is half of what a drawing costs it. */
function frameOf({ margins, x, y, lines }: ChartPicture): string {
  return JSON.stringify([margins, x, y, lines.map(({ colour, width }) => [colour, width])]);
}

/** Takes up new points of one line. */
function renew(chart: Chart<'line', ChartPoint[]>, index: number): void {
  const { controller } = chart.getDatasetMeta(index);
  controller.buildOrUpdateElements();
  controller.update('none');
}

/** Replaced in place: the same dataset objects for the life of the chart. */
function putLine(datasets: ChartDataset<'line', ChartPoint[]>[], line: ChartLine, index: number): void {
  const dataset = (datasets[index] ??= { data: [] });
  // The library only reads them: it is told that they are ready-made.
  dataset.data = line.points as ChartPoint[];
  dataset.borderColor = line.colour;
  dataset.borderWidth = line.width;
  dataset.hidden = line.width === 0;
  /* The first dataset lies in front unless told otherwise. */
  dataset.order = -index;
}
