/** The road in words, for those who can't see it: the same facts as the picture, most urgent first. */
import type { FanBead } from '../../../server/core/bowl/estimate.ts';
import type { Phase } from '../../../server/core/record/profile.ts';
import { spreadAt } from '../../road/envelope.ts';
import type { RoadModel } from '../../road/model.ts';
import { panelsAt } from '../../road/panels.ts';
import type { Stretch } from '../../road/panels.ts';
import { apart, bound, degrees, measured, span } from '../measure.ts';
import { phaseName } from '../names.ts';
import { isRateUnknown, wayForm } from '../../way-form.ts';
import { courseWords, leftName, leftWords } from './way.ts';
import { bandWords } from '../../road/words.ts';

/** Up to nine short sentences. Temperatures as the viewer wants them said. */
export function roadSummary(model: RoadModel): string {
  const { past, open, coming } = panelsAt(model, model.nowMs);
  const sentences = [
    phaseSentence(model, open),
    valueSentence(model, open.phase),
    boundsSentence(open.phase),
    aheadSentence(model, open.phase),
    bestSentence(model, open),
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
  if (model.live === 'over') return `${measured(valueC)} at the end, ${place}.`;
  if (model.live !== 'stale') return `${measured(valueC)}, ${place}.`;
  return `No reading for ${span((model.nowMs - atMs) / 1000)}; it was ${measured(valueC)}, ${place}.`;
}

/** The difference first: where the value lies against what matters. */
function placeWords(valueC: number, { bandC: [lowC, highC], ceilingC, floorC, lostAboveC }: Phase): string {
  if (lostAboveC !== undefined && valueC >= lostAboveC) return `above the ${bound(lostAboveC)} at which temper is lost`;
  if (ceilingC !== undefined && valueC > ceilingC)
    return `${apart(valueC - ceilingC)} over the ${bound(ceilingC)} ceiling`;
  if (floorC !== undefined && valueC < floorC) return `${apart(floorC - valueC)} under the ${bound(floorC)} floor`;
  if (valueC > highC) return `${apart(valueC - highC)} over the band`;
  if (valueC < lowC) return `${apart(lowC - valueC)} under the band`;
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

/** What is to be expected: the choice where there is one, else the way to the band; then how far the forecast reaches. */
function aheadSentence(model: RoadModel, phase: Phase): string | null {
  const { estimate, fan, leftOn } = model;
  if (model.live !== 'live' || estimate === null) return null;
  if (model.uncertain === true) return 'What comes can’t be told from this reading.';
  const off = fan.at(-1);
  if (leftOn !== undefined && off !== undefined) {
    const left = leftName(leftOn, estimate.tempC) === 'left on' ? 'Left on' : 'Left in';
    return `Off now: ${rangeWords(off)}. ${left}: ${leftWords(leftOn, estimate.tempC, phase)}.`;
  }
  const isOnTheWay = phase.heading !== 'hold' && estimate.etaS !== 0;
  const form = wayForm(phase, estimate, isRateUnknown(estimate, fan));
  const course = isOnTheWay ? courseWords(phase, { form, estimate }) : null;
  const forecast = off === undefined ? null : `Like this: ${rangeWords(off)}.`;
  return [course, forecast].filter((words) => words !== null).join(' ') || null;
}

/** How far into the phase they were then is the same; the band is the goal, this is only what was. */
function bestSentence(model: RoadModel, open: Stretch): string | null {
  const spread = spreadAt(model, open, model.nowMs);
  if (spread === null) return null;
  const [lowC, highC] = spread.map(degrees) as [string, string];
  return `Your best runs, as long after entering: ${lowC === highC ? lowC : `${lowC} to ${highC}`}.`;
}

/** "31.4 in 3 min, between 31.2 and 31.6" */
function rangeWords({ inS, lowC, medianC, highC }: FanBead): string {
  return `${degrees(medianC)} in ${span(inS)}, between ${degrees(lowC)} and ${degrees(highC)}`;
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
