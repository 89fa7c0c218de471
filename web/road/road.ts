/**
 * The road: a box of the page in which the map is drawn. Owns the canvas and says when it is drawn: never more often than it
 * can be followed, never while nobody can see it. What is drawn, and where, is decided in the files beside this one.
 */
import { createChart } from '../chart.ts';
import type { RoadModel } from './model.ts';
import { readPalette } from './palette.ts';
import { forgetWidths } from './pen.ts';
import { Kept } from './kept.ts';
import { pictureOf } from './picture.ts';
import { layOut, momentAt } from './sheet.ts';
import type { Box, Sheet } from './sheet.ts';

export interface Road {
  /** Shows this model, at once or when the last redraw is long enough ago; only the newest counts. */
  draw(model: RoadModel): void;
  /** How the road is told to those who can't see it, from now on. Until then nobody is told of a picture. */
  tell(inWords: (model: RoadModel) => string): void;
  /** Takes up the host's present size. Called by itself when the host's box changes. */
  resize(): void;
  /** What lies under a point of the host, CSS px. */
  spotAt(x: number, y: number): RoadSpot;
  destroy(): void;
}

export type RoadSpot =
  /** A folded phase that has been: touching it opens it. */
  | { readonly kind: 'fold'; readonly fromMs: number; readonly toMs: number }
  | { readonly kind: 'time'; readonly atMs: number }
  | { readonly kind: 'nothing' };

/** At most four redraws a second (ours: the map moves once a second, the rest is head and fan). */
const LEAST_BETWEEN_MS = 250;
/** The map slides this often; under reduced motion it steps. */
const SLIDE_MS = 1_000;
const REDUCED_SLIDE_MS = 5_000;
/** While it goes on by itself it is told anew this often, ms (ours: nobody is read words that change under the voice). */
const TOLD_EVERY_MS = 5_000;

export function createRoad(host: HTMLElement): Road {
  const canvas = host.ownerDocument.createElement('canvas');
  canvas.style.cssText = 'position:absolute;inset:0;display:block';
  if (getComputedStyle(host).position === 'static') host.style.position = 'relative';
  host.append(canvas);
  const chart = createChart(canvas);
  const kept = new Kept();
  const reducedMotion = matchMedia('(prefers-reduced-motion: reduce)');
  let model: RoadModel | null = null;
  let sheet: Sheet | null = null;
  let drawnAt = -Infinity;
  let timer: ReturnType<typeof setTimeout> | undefined;
  let pixelRatio = 0;
  let toldAt = -Infinity;
  let inWords: ((model: RoadModel) => string) | null = null;

  function drawNow(): void {
    clearTimeout(timer);
    timer = undefined;
    const size = { width: host.clientWidth, height: host.clientHeight };
    if (model === null || document.hidden || size.width < 1 || size.height < 1) return;
    if (pixelRatio !== devicePixelRatio) fit();
    sheet = layOut(model, size, reducedMotion.matches ? REDUCED_SLIDE_MS : SLIDE_MS);
    chart.show(pictureOf(model, sheet, readPalette(host), pixelRatio, kept));
    drawnAt = performance.now();
    name();
  }

  /** Only what is drawn is a picture of something. */
  function name(): void {
    if (inWords === null || model === null || sheet === null) return;
    if (model.live === 'live' && drawnAt - toldAt < TOLD_EVERY_MS) return;
    toldAt = drawnAt;
    canvas.setAttribute('role', 'img');
    canvas.setAttribute('aria-label', inWords(model));
  }

  function drawSoon(): void {
    timer ??= setTimeout(drawNow, Math.max(0, drawnAt + LEAST_BETWEEN_MS - performance.now()));
  }

  function drawWithNewFace(): void {
    forgetWidths();
    kept.forget();
    drawSoon();
  }

  function fit(): void {
    pixelRatio = devicePixelRatio;
    chart.resize(host.clientWidth, host.clientHeight);
  }

  function resize(): void {
    fit();
    drawNow();
  }

  const watcher = new ResizeObserver(resize);
  watcher.observe(host);
  document.addEventListener('visibilitychange', drawSoon);
  document.fonts.addEventListener('loadingdone', drawWithNewFace);

  return {
    draw(next) {
      model = next;
      drawSoon();
    },
    tell(next) {
      inWords = next;
      name();
    },
    resize,
    spotAt: (x, y) => (sheet === null ? { kind: 'nothing' } : spotOn(sheet, x, y)),
    destroy() {
      clearTimeout(timer);
      watcher.disconnect();
      document.removeEventListener('visibilitychange', drawSoon);
      document.fonts.removeEventListener('loadingdone', drawWithNewFace);
      chart.destroy();
      canvas.remove();
    },
  };
}

function spotOn(sheet: Sheet, x: number, y: number): RoadSpot {
  const fold = sheet.folds.find(({ panel }) => isInside(panel.box, x, y));
  if (fold?.kind === 'past') return { kind: 'fold', fromMs: fold.stretch.fromMs, toMs: fold.stretch.toMs };
  return isInside(sheet.plot, x, y) ? { kind: 'time', atMs: momentAt(sheet, x) } : { kind: 'nothing' };
}

function isInside(box: Box, x: number, y: number): boolean {
  return x >= box.x && x < box.x + box.width && y >= box.y && y < box.y + box.height;
}
