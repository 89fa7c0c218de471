/**
 * The page on which redraws are timed: a road with a shift of work behind it, told of a new second as the page tells it. Each redraw
 * leaves three marks, before and after its script and after the frame that fills the pixels; they are read from outside.
 */
/// <reference types="vite/client" />
import '../../../web/style/palette.css';
import '../../../web/style/base.css';
import type { WireReading } from '../../../server/core/show/wire.ts';
import { createChart, type ChartLine } from '../../../web/chart.ts';
import { Curve } from '../../../web/curve.ts';
import { Kept } from '../../../web/road/kept.ts';
import type { RoadModel, RoadWindow } from '../../../web/road/model.ts';
import { readPalette } from '../../../web/road/palette.ts';
import { pictureOf } from '../../../web/road/picture.ts';
import { createRoad } from '../../../web/road/road.ts';
import { roadSummary } from '../../../web/words/road-summary.ts';
import { layOut } from '../../../web/road/sheet.ts';
import { traceOf } from '../../../web/road/trace.ts';
import { SCENES, START_MS, eveningC } from '../../support/road/scenes.ts';

declare global {
  interface Window {
    shiftPage: typeof shiftPage;
  }
}

/** follow: as it mostly stands. all: the whole run. four: the whole run with three channels more than the page draws. */
export type Shift = 'follow' | 'all' | 'four';

const HOUR_MS = 3_600_000;
const SECOND_MS = 1_000;
/** What the drawn evening has of calm work, repeated as long as the shift lasts, minutes. */
const CALM = { fromMin: 56, lengthMin: 22 };

let due: (() => void) | null = null;
let next: () => void = () => undefined;

const shiftPage = {
  /** Stands the shift up and draws it once. */
  async open(kind: Shift, hours: number): Promise<void> {
    next = kind === 'four' ? fourChannels(hours) : oneRoad(kind, hours);
    // Its box is measured first: that alone redraws out of turn.
    await frame();
  },
  /** So many further seconds, one after the other. */
  async redraw(times: number): Promise<void> {
    for (let i = 0; i < times; i++) {
      next();
      performance.mark('redraw');
      due?.();
      performance.mark('drawn');
      await frame();
      performance.mark('filled');
    }
  },
};

/** The road of the page; whatever it does, it does in a timer of its own, which is held back here. */
function oneRoad(kind: 'follow' | 'all', hours: number): () => void {
  window.setTimeout = ((work: () => void) => {
    due = work;
    return 1;
  }) as unknown as typeof window.setTimeout;
  const road = createRoad(host());
  road.tell(roadSummary);
  const { curve, model } = shift(hours, kind);
  let nowMs = model.nowMs;
  return () => {
    nowMs += SECOND_MS;
    curve.addReadings([readingAt(nowMs)]);
    road.draw({ ...model, nowMs });
  };
}

function fourChannels(hours: number): () => void {
  const canvas = host().appendChild(document.createElement('canvas'));
  const chart = createChart(canvas);
  const kept = new Kept();
  const size = { width: host().clientWidth, height: host().clientHeight };
  chart.resize(size.width, size.height);
  const { curve, model } = shift(hours, 'all');
  const others = [1, 2, 3].map(() => shift(hours, 'all').curve);
  let nowMs = model.nowMs;
  return () => {
    nowMs += SECOND_MS;
    for (const column of [curve, ...others]) column.addReadings([readingAt(nowMs)]);
    due = () => {
      const moved = { ...model, nowMs };
      const sheet = layOut(moved, size);
      const palette = readPalette(host());
      const lineOf = (column: Curve, sinceMs: number): ChartLine => {
        const { reading } = traceOf({ ...moved, curve: column }, sheet, { reading: 2, estimate: 0 }, sinceMs);
        return { points: reading, colour: palette.quiet, width: 2 };
      };
      const further = (sinceMs: number): ChartLine[] => others.map((column) => lineOf(column, sinceMs));
      chart.show(pictureOf(moved, sheet, palette, devicePixelRatio, kept, further));
    };
  };
}

window.shiftPage = shiftPage;

function shift(hours: number, kind: 'follow' | 'all'): { curve: Curve; model: RoadModel } {
  const nowMs = START_MS + hours * HOUR_MS;
  const curve = new Curve();
  const readings: WireReading[] = [];
  for (let atMs = START_MS; atMs <= nowMs; atMs += SECOND_MS) readings.push(readingAt(atMs));
  curve.addReadings(readings);
  const window: RoadWindow = { kind };
  const work = SCENES['work']!();
  const notes = Array.from({ length: hours * 4 }, (_, i) => ({
    kind: 'note' as const,
    atMs: nowMs - i * (HOUR_MS / 4),
    text: `tray ${i + 1}, Jo dips`,
  }));
  return { curve, model: { ...work, curve, nowMs, window, marks: [...work.marks, ...notes.toReversed()] } };
}

function readingAt(atMs: number): WireReading {
  const s = Math.round((atMs - START_MS) / SECOND_MS);
  const minute = s / 60;
  const drawnC = eveningC(minute < CALM.fromMin ? minute : CALM.fromMin + ((minute - CALM.fromMin) % CALM.lengthMin));
  return [atMs, drawnC + 0.06 * Math.sin(s * 12.9898) * Math.cos(s * 78.233), 0, drawnC + 0.02 * Math.sin(s / 3)];
}

function host(): HTMLElement {
  return document.querySelector<HTMLElement>('#road')!;
}

function frame(): Promise<void> {
  return new Promise((resolve) => {
    requestAnimationFrame(() => requestAnimationFrame(() => resolve()));
  });
}
