/** The road in words, for those who can't see it: the same facts as the picture, most urgent first. */
import type { Phase } from '../../server/core/record/profile.ts';
import type { RoadModel } from './model.ts';
import { panelsAt } from './panels.ts';
import type { Stretch } from './panels.ts';
import { bound, degrees, span } from '../words/measure.ts';
import { phaseName } from '../words/names.ts';
import { bandWords } from './words.ts';

/** Two to six short sentences. Temperatures in °C. */
export function roadSummary(model: RoadModel): string {
  const { past, open, coming } = panelsAt(model, model.nowMs);
  const sentences = [
    phaseSentence(model, open),
    valueSentence(model, open.phase),
    boundsSentence(open.phase),
    arrivalSentence(model, open.phase),
    past.length === 0 ? null : `Before it: ${past.map((stretch) => pastWords(model, stretch)).join(', ')}.`,
    coming.length === 0
      ? null
      : `Then: ${coming.map((phase) => `${phaseName(phase.id)} to ${bandWords(phase.bandC)}`).join(', ')}.`,
    marksSentence(model),
  ];
  return sentences.filter((sentence) => sentence !== null).join(' ');
}

function phaseSentence(model: RoadModel, open: Stretch): string {
  if (model.phases.length === 0) return `${phaseName(open.phase.id)}, not begun.`;
  return `${phaseName(open.phase.id)}, ${span(((open.going ? model.nowMs : open.toMs) - open.fromMs) / 1000)}${open.going ? ' so far' : ''}.`;
}

function valueSentence(model: RoadModel, phase: Phase): string {
  const atMs = model.live === 'stale' ? (model.curve.lastAtMs() ?? model.nowMs) : model.nowMs;
  const valueC = model.live === 'live' && model.estimate !== null ? model.estimate.tempC : model.curve.estimateAt(atMs);
  if (valueC === null) return 'No reading.';
  const place = placeWords(valueC, phase);
  if (model.live !== 'stale') return `${degrees(valueC)} °C, ${place}.`;
  return `No reading for ${span((model.nowMs - atMs) / 1000)}; it was ${degrees(valueC)} °C, ${place}.`;
}

/** The difference first: where the value lies against what matters. */
function placeWords(valueC: number, { bandC: [lowC, highC], ceilingC, floorC, lostAboveC }: Phase): string {
  if (lostAboveC !== undefined && valueC >= lostAboveC) return `above the ${bound(lostAboveC)} at which temper is lost`;
  if (ceilingC !== undefined && valueC > ceilingC)
    return `${degrees(valueC - ceilingC)} over the ${bound(ceilingC)} ceiling`;
  if (floorC !== undefined && valueC < floorC) return `${degrees(floorC - valueC)} under the ${bound(floorC)} floor`;
  if (valueC > highC) return `${degrees(valueC - highC)} over the band`;
  if (valueC < lowC) return `${degrees(lowC - valueC)} under the band`;
  return 'in the band';
}

function boundsSentence({ bandC, ceilingC, floorC, lostAboveC }: Phase): string {
  const bounds = [
    `Band ${bandWords(bandC)}`,
    ceilingC === undefined ? null : `ceiling ${bound(ceilingC)}`,
    lostAboveC === undefined ? null : `temper lost from ${bound(lostAboveC)}`,
    floorC === undefined ? null : `floor ${bound(floorC)}`,
  ];
  return `${bounds.filter((words) => words !== null).join(', ')}.`;
}

function arrivalSentence(model: RoadModel, phase: Phase): string | null {
  const { etaS = null, etaLowS = null, etaHighS = null } = model.estimate ?? {};
  if (model.live === 'stale' || phase.heading === 'hold' || etaS === null || etaS <= 0) return null;
  const range = etaLowS !== null && etaHighS !== null ? `, between ${span(etaLowS)} and ${span(etaHighS)}` : '';
  return `The band in about ${span(etaS)}${range}.`;
}

function pastWords(model: RoadModel, stretch: Stretch): string {
  const valueC = model.curve.lastEstimateIn(stretch.fromMs, stretch.toMs);
  const end = valueC === null ? '' : ` to ${degrees(valueC)}`;
  return `${phaseName(stretch.phase.id)}${end} in ${span((stretch.toMs - stretch.fromMs) / 1000)}`;
}

function marksSentence(model: RoadModel): string | null {
  const notes = model.marks.filter((mark) => mark.kind === 'note' || mark.kind === 'act').length;
  const alarms = model.marks.filter((mark) => mark.kind === 'alarm').length;
  const counts = [counted(alarms, 'alarm'), counted(notes, 'note')].filter((words) => words !== null);
  return counts.length === 0 ? null : `${counts.join(', ')} so far.`;
}

function counted(count: number, noun: string): string | null {
  return count === 0 ? null : `${count} ${noun}${count === 1 ? '' : 's'}`;
}
