/** Paints what stands round the unfolded map: names and lengths of the phases over their panels, elapsed times along the foot. */
import { paintTicks, tickRoom } from './edges.ts';
import { elapsedTicks } from './elapsed-ticks.ts';
import type { RoadModel } from './model.ts';
import { widthOf, write } from './pen.ts';
import type { Pen, Setting } from './pen.ts';
import { panelOf, xAt } from './sheet.ts';
import type { Sheet } from './sheet.ts';
import { tick } from './ticks.ts';
import type { Tick } from './ticks.ts';
import { span } from '../words/measure.ts';
import { elapsed } from '../words/elapsed.ts';
import { phaseName } from '../words/names.ts';

/** Half the play head's width, px. */
const PLAY_HEAD_W = 14;

export function paintUnfoldedEdges(pen: Pen, model: RoadModel, sheet: Sheet): void {
  paintHeaders(pen, model, sheet);
  paintTicks(pen, sheet, unfoldedTicks(pen, model, sheet));
}

/** Phase names over their panels, beside the play head, with how long each lasted where that fits and the head leaves room. */
function paintHeaders(pen: Pen, model: RoadModel, sheet: Sheet): void {
  const { palette, metrics } = pen;
  if (sheet.rail.height === 0) return;
  const y = sheet.rail.height - 10 * metrics.scale;
  const strong: Setting = { size: metrics.text.tab, weight: 700, colour: palette.ink };
  const quiet: Setting = { size: metrics.text.rail * 0.9, weight: 500, colour: palette.quiet };
  const headX = xAt(panelOf(sheet, model.nowMs), model.nowMs);
  for (const { box, stretches } of sheet.panels) {
    const [stretch] = stretches;
    const name = phaseName(stretch!.phase.id);
    const nameW = widthOf(pen, name, strong);
    const isUnderHead = (from: number, to: number): boolean =>
      model.live === 'playback' && headX > from - PLAY_HEAD_W && headX < to + PLAY_HEAD_W;
    const left = box.x + 2;
    const x = isUnderHead(left, left + nameW) ? headX + PLAY_HEAD_W : left;
    if (x + nameW + 2 > box.x + box.width) continue;
    write(pen, name, { x, y }, strong);
    const length = span((toldEnd(model, stretch!.toMs) - stretch!.fromMs) / 1000);
    const lengthX = x + nameW + 10;
    const end = lengthX + widthOf(pen, length, quiet);
    if (end < box.x + box.width && !isUnderHead(lengthX, end)) write(pen, length, { x: lengthX, y }, quiet);
  }
}

/** The overview's end is drawn ahead of now by up to a step, but never said to be. */
function toldEnd({ live, nowMs }: RoadModel, atMs: number): number {
  return live === 'playback' ? atMs : Math.min(atMs, nowMs);
}

/** What of the edges changes while the overview stands still. */
export function endWords(model: RoadModel, { panels }: Sheet): readonly string[] {
  const { stretches, view } = panels.at(-1)!;
  const [toMs, fromMs] = [toldEnd(model, view.toMs), stretches[0]!.fromMs];
  return [elapsed(toMs - model.startedAtMs), span((toldEnd(model, stretches[0]!.toMs) - fromMs) / 1000)];
}

/** Where one phase gives way to the next, each time said once, and round times between. */
function unfoldedTicks(pen: Pen, model: RoadModel, sheet: Sheet): Tick[] {
  const { startedAtMs } = model;
  const toMs = sheet.panels.at(-1)!.view.toMs;
  const boundaries = [...sheet.panels.map((panel) => panel.view.fromMs), toMs];
  const all = boundaries.map((atMs) => tick(atMs, elapsed(toldEnd(model, atMs) - startedAtMs), 0));
  const named = all.filter(({ text }, i) => text !== all[i - 1]?.text);
  const view = { fromMs: sheet.panels[0]!.view.fromMs, toMs };
  const said = new Set(named.map(({ text }) => text));
  return [...named, ...elapsedTicks(view, startedAtMs, tickRoom(pen, sheet)).filter(({ text }) => !said.has(text))];
}
