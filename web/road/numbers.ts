/** Numbers beside the marks of an overview, in discs: the key to the list of notes. Neighbours share one. */
import type { Places } from './labels.ts';
import { crowds, paintStalk } from './marks.ts';
import type { Stood } from './marks.ts';
import { ink, widthOf, write } from './pen.ts';
import type { Pen, Setting } from './pen.ts';
import type { Box } from './sheet.ts';

/** Numbers closer than this share a disc: "3–5", px. */
const DISC_CROWD = 30;
const DISC_R = 13.5;

export function paintNumbers(pen: Pen, places: Places, notes: readonly Stood[]): void {
  for (const group of crowds(notes, DISC_CROWD * pen.metrics.scale)) paintNumber(pen, places, group);
}

function stalkBox({ x, y }: Stood, box: Box): Box {
  return { x: x - 3, y: Math.min(y, box.y), width: 6, height: Math.abs(box.y - y) };
}

function paintNumber(pen: Pen, places: Places, group: readonly Stood[]): void {
  const spot = group[Math.floor((group.length - 1) / 2)]!;
  const words = group.length === 1 ? String(spot.number) : `${group[0]!.number}–${group.at(-1)!.number}`;
  const setting: Setting = {
    size: 16 * pen.metrics.scale,
    weight: 700,
    colour: pen.palette['mark-ink'],
    align: 'center',
  };
  const height = 2 * DISC_R * pen.metrics.scale;
  const width = Math.max(height, widthOf(pen, words, setting) + 16);
  const rows = [26, -26 - height, 44, -44 - height, 62, -62 - height, 84, -84 - height, 110, -110 - height];
  const candidates = [0, -0.7, 0.7, -1.4, 1.4].flatMap((dx) =>
    rows.map((dy) => ({ x: spot.x - width / 2 + dx * height, y: spot.y + dy, width, height })),
  );
  const box = places.first(candidates, true);
  if (box === null) return;
  paintStalk(pen, spot, box);
  places.take(stalkBox(spot, box));
  paintPill(pen, box);
  write(pen, words, { x: box.x + width / 2, y: box.y + height / 2 + setting.size * 0.36 }, setting);
}

function paintPill(pen: Pen, box: Box): void {
  const { canvas, palette } = pen;
  canvas.beginPath();
  canvas.roundRect(box.x, box.y, box.width, box.height, box.height / 2);
  canvas.fillStyle = palette.mark;
  canvas.fill();
  ink(canvas, { colour: palette['mark-ink'], width: 2.5 });
}
