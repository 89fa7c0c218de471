/** The page the browser test and the pictures draw on: one box, one road, a scene by name. */
/// <reference types="vite/client" />
import '../../../web/style/palette.css';
import { startViewer } from '../../../web/viewer.ts';
import '../../../web/style/base.css';
import { createRoad } from '../../../web/road/road.ts';
import type { Road } from '../../../web/road/road.ts';
import { roadSummary } from '../../../web/words/road-summary.ts';
import { layOut } from '../../../web/road/sheet.ts';
import { SCENES } from './scenes.ts';

declare global {
  interface Window {
    roadPage: typeof roadPage;
  }
}

type Colour = readonly [red: number, green: number, blue: number];

let road: Road | null = null;
/** The chart wipes its canvas once per drawing. */
let drawings = 0;
const drawing = CanvasRenderingContext2D.prototype;
const wipe = Object.getOwnPropertyDescriptor(drawing, 'clearRect')!.value as (...box: number[]) => void;
drawing.clearRect = function counted(...box: number[]): void {
  drawings++;
  Reflect.apply(wipe, this, box);
};

const roadPage = {
  scenes: Object.keys(SCENES),
  /** Resolves when the scene has been drawn with its fonts. */
  async show(name: string, width: number, height: number, paper = false): Promise<void> {
    const model = SCENES[name]!();
    road?.destroy();
    const host = document.querySelector<HTMLElement>('#road')!;
    host.style.cssText = `width:${width}px;height:${height}px;position:relative`;
    document.body.style.cssText = `margin:0;background:var(${model.alarm ? '--pod' : '--slab'})`;
    host.className = 'road';
    document.body.className = [model.alarm ? 'alarm' : '', paper ? 'paper' : ''].join(' ');
    await Promise.all(
      ['800 20px "Overpass Variable"', 'italic 560 20px "Newsreader Variable"'].map((font) =>
        document.fonts.load(font),
      ),
    );
    road = createRoad(host);
    road.tell(roadSummary);
    road.draw(model);
    await pause(60);
  },
  layOut: (name: string, width: number, height: number) => layOut(SCENES[name]!(), { width, height }),
  colourAt(x: number, y: number): Colour {
    const [red, green, blue] = pixels(x, y, 1).data;
    return [red!, green!, blue!];
  },
  /** A custom property of the road as a colour. */
  property(name: string): Colour {
    const pen = document.createElement('canvas').getContext('2d')!;
    pen.fillStyle = getComputedStyle(hostOf()).getPropertyValue(name);
    pen.fillRect(0, 0, 1, 1);
    const [red, green, blue] = pen.getImageData(0, 0, 1, 1).data;
    return [red!, green!, blue!];
  },
  /** Rows of the column of pixels at `x` that have this colour. */
  rowsOf(x: number, colour: Colour): number[] {
    const { data, height } = pixels(x, 0, canvasOf().height);
    return Array.from({ length: height }, (_, row) => row).filter((row) =>
      colour.every((part, i) => data[row * 4 + i] === part),
    );
  },
  spotAt: (x: number, y: number) => road!.spotAt(x, y),
  sizes: () => ({
    css: [canvasOf().clientWidth, canvasOf().clientHeight],
    device: [canvasOf().width, canvasOf().height],
  }),
  settle: () => pause(600),
  /** Tells the road `times` times in a row, 25 ms apart, and counts. */
  async hurry(times: number): Promise<{ drawings: number; seconds: number }> {
    const from = performance.now();
    drawings = 0;
    for (let i = 0; i < times; i++) {
      road!.draw(SCENES['work']!());
      await pause(25);
    }
    await pause(300);
    return { drawings, seconds: (performance.now() - from) / 1000 };
  },
  async hideAndShow(): Promise<{ hidden: number; shown: number }> {
    const model = SCENES['work']!();
    await pause(300);
    setHidden(true);
    drawings = 0;
    road!.draw(model);
    await pause(400);
    const hidden = drawings;
    setHidden(false);
    await pause(400);
    return { hidden, shown: drawings - hidden };
  },
  /**
   * An overview that is told of the run second by second for so long, against one that is drawn from nothing at the end: how many pixels
   * differ between the two, and how many do between beginning and end.
   */
  async grow(scene: string, times: number, everyS: number): Promise<{ amiss: number; moved: number }> {
    const model = SCENES[scene]!();
    road!.draw(model);
    await pause(300);
    const before = picture();
    let nowMs = model.nowMs;
    let last = model;
    for (let i = 0; i < times; i++) {
      for (let s = 0; s < everyS; s++) {
        nowMs += 1_000;
        const valueC = 31.4 + 0.2 * Math.sin(nowMs / 9_000);
        model.curve.addReadings([[nowMs, valueC, 0, valueC]]);
        last = { ...model, nowMs, estimate: { ...model.estimate!, atMs: nowMs, tempC: valueC } };
      }
      road!.draw(last);
      await pause(300);
    }
    const grown = picture();
    road!.destroy();
    road = createRoad(hostOf());
    road.draw(last);
    await pause(60);
    const fresh = picture();
    return { amiss: differing(grown, fresh), moved: differing(grown, before) };
  },
  /** How many elements are left in the host. */
  takeDown(): number {
    road!.destroy();
    return hostOf().childElementCount;
  },
};

startViewer();
window.roadPage = roadPage;

function hostOf(): HTMLElement {
  return document.querySelector<HTMLElement>('#road')!;
}

function canvasOf(): HTMLCanvasElement {
  return document.querySelector('canvas')!;
}

function picture(): ImageData {
  const canvas = canvasOf();
  return canvas.getContext('2d')!.getImageData(0, 0, canvas.width, canvas.height);
}

/** Pixels of which a colour is another by more than rounding. */
function differing({ data: some }: ImageData, { data: others }: ImageData): number {
  let count = 0;
  for (let i = 0; i < some.length; i += 4)
    if ([0, 1, 2].some((part) => Math.abs(some[i + part]! - others[i + part]!) > 8)) count++;
  return count;
}

function pixels(x: number, y: number, rows: number): ImageData {
  const ratio = canvasOf().width / canvasOf().clientWidth;
  return canvasOf()
    .getContext('2d')!
    .getImageData(Math.floor(x * ratio), Math.floor(y * ratio), 1, rows);
}

function setHidden(hidden: boolean): void {
  Object.defineProperty(document, 'hidden', { configurable: true, value: hidden });
  document.dispatchEvent(new Event('visibilitychange'));
}

function pause(ms: number): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve, ms));
}
