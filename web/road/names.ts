/** Where the names of the bounds stand on the map, each above its own line, where nothing else stands. */
import { firstDownIndex } from '../../server/core/show/course.ts';
import type { Phase } from '../../server/core/record/profile.ts';
import { laneAt, reachesOf } from './ground.ts';
import type { Reach } from './ground.ts';
import type { Places } from './labels.ts';
import type { RoadModel } from './model.ts';
import { onGround, wordBox, write } from './pen.ts';
import type { Pen, Setting, Spot } from './pen.ts';
import { yAt } from './sheet.ts';
import type { Box, Sheet } from './sheet.ts';
import { levels } from './ticks.ts';
import { bound } from '../words/measure.ts';
import { BOUND_NAME } from '../words/road.ts';
import { bandWords } from './words.ts';

export interface Name {
  readonly words: string;
  readonly valueC: number;
  /** On which side of its line it may stand, dearest first: what lies past a line is never named on its near side. */
  readonly sides: readonly ('above' | 'below')[];
  /** Distance from its line, px. */
  readonly off: number;
}

/** Distance between the places tried along a line, px. */
const ALONG = 48;
/** Clear to either side of a name, px (ours: two words apart). */
const BESIDE = 18;

/** The names a phase gives its bounds, and its band where no gutter tells it. `told`: values that stand in the gutter. */
export function namesOf(model: RoadModel, { stretch }: Reach, told: ReadonlySet<number>): Name[] {
  const { phase, index } = stretch;
  const isBeforeSeed = index < firstDownIndex(model.profile);
  const name = (valueC: number | undefined, words: string, sides: Name['sides'], off: number): Name[] => {
    if (valueC === undefined) return [];
    return [{ words: told.has(valueC) ? words : `${words} ${bound(valueC)}`, valueC, sides, off }];
  };
  return [
    ...name(phase.lostAboveC, BOUND_NAME.lost, ['above'], 7),
    ...name(phase.ceilingC, isBeforeSeed ? BOUND_NAME.scorch : BOUND_NAME.ceiling, ['above', 'below'], 15),
    ...name(phase.floorC, phase.heading === 'hold' ? BOUND_NAME.tooCoolToDip : BOUND_NAME.tooCool, ['below'], 6),
    ...(told.has(phase.bandC[0]) ? [] : [bandName(phase)]),
  ];
}

function bandName({ heading, bandC }: Phase): Name {
  const nearIsLow = heading === 'up';
  return {
    words: bandWords(bandC),
    valueC: bandC[nearIsLow ? 0 : 1],
    sides: nearIsLow ? ['below', 'above'] : ['above', 'below'],
    off: 6,
  };
}

/** What bounds and kerbs keep free of words. */
export function takeLines(places: Places, sheet: Sheet): void {
  for (const panel of sheet.panels)
    for (const { stretch, x0, x1 } of reachesOf(panel)) {
      const { phase } = stretch;
      const at = (x0 + x1) / 2;
      const lane = laneAt(panel, phase, at);
      const level = (y: number, above: number, below: number): Box => ({
        x: x0,
        y: y - above,
        width: x1 - x0,
        height: above + below,
      });
      places.takeLines(level(lane.top, 1, lane.foot - lane.top + 1));
      if (phase.ceilingC !== undefined) places.takeLines(level(yAt(panel, phase.ceilingC, at), 12, 6));
      if (phase.floorC !== undefined) places.takeLines(level(yAt(panel, phase.floorC, at), 1, 1));
      if (phase.lostAboveC !== undefined) places.takeLines(level(yAt(panel, phase.lostAboveC, at), 5, 5));
    }
}

/** A name where it found room, its baseline from here. */
export interface PlacedName extends Spot {
  readonly words: string;
}

/** Takes a place for each, as far as there is one. */
export function placeNames(pen: Pen, model: RoadModel, sheet: Sheet, places: Places): readonly PlacedName[] {
  const told = new Set(
    sheet.unfolded === null ? levels(sheet.open.phase, sheet.panels[0]!.range).map(({ valueC }) => valueC) : [],
  );
  const said = new Set<string>();
  const placed: PlacedName[] = [];
  for (const panel of sheet.panels)
    for (const reach of reachesOf(panel).toReversed())
      for (const name of namesOf(model, reach, told)) {
        if (said.has(name.words) && sheet.unfolded === null) continue;
        const spot = placeOf(pen, reach, name, places);
        if (spot === null) continue;
        said.add(name.words);
        placed.push({ words: name.words, ...spot });
      }
  return placed;
}

export function writeNames(pen: Pen, names: readonly PlacedName[]): void {
  for (const { words, x, y } of names) write(pen, words, { x, y }, settingOf(pen));
}

function settingOf(pen: Pen): Setting {
  return onGround(pen, pen.metrics.text.label);
}

function placeOf(pen: Pen, reach: Reach, name: Name, places: Places): Spot | null {
  const { metrics } = pen;
  const setting = settingOf(pen);
  const { width, height } = wordBox(pen, name.words, setting, { x: 0, y: 0 });
  const along = (side: Name['sides'][number]): Box[] => {
    const boxes: Box[] = [];
    for (let x = reach.x0 + metrics.inset; x + width < reach.x1; x += ALONG) {
      const y = yAt(reach.panel, name.valueC, x + width / 2);
      boxes.push({ x, y: side === 'above' ? y - name.off - height : y + name.off, width, height });
    }
    return boxes;
  };
  const box = places.first(name.sides.flatMap(along));
  if (box === null) return null;
  // A person's words right beside them would be read as one with them.
  places.take({ ...box, x: box.x - BESIDE, width: box.width + 2 * BESIDE });
  return { x: box.x, y: box.y + setting.size * 0.7 };
}
