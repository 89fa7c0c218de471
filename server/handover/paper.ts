/**
 * What paper says of a run, in parts that the run sheet and the page for keeping both lay out: facts, phases, what happened, how it stood, who
 * signs. Whatever was not said is said to be so: an empty line is no statement. Each gives elements of HTML.
 */
import type { Outcome, Setting } from '../core/record/card.ts';
import type { Account, Stay } from '../core/show/account.ts';
import { accountOfColumns } from '../core/show/account-curve.ts';
import { STANDING_AT_END, STANDING_NAME, STANDING_WHY } from '../names.ts';
import { asName, bound, capital, clock, day, degrees, figure, type Manner, span, unitSign } from './manner.ts';
import { probeFacts } from './probe-facts.ts';
import { element, escaped } from './svg.ts';
import { type Happening, headerAtEnd, phaseOf, type ToldRun } from './told-run.ts';

const NOT_NOTED = 'not noted';
/** Never shortened in silence. */
export const ALLERGENS = 'Allergens';

export function text(name: string, words: string, className = ''): string {
  return element(name, className === '' ? {} : { class: className }, escaped(words === '' ? '\u00a0' : words));
}

export type Fact = readonly [name: string, value: string];

/** What is known of the batch and of how it was measured. */
export function factsOf(told: ToldRun, manner: Manner): Fact[] {
  return [...batchFacts(told, manner), ...measuredFacts(told, manner)];
}

export function factList(facts: readonly Fact[], className: string): string {
  const rows = facts.map(([name, value]) => element('div', {}, text('dt', name), text('dd', value)));
  return element('dl', { class: className }, ...rows);
}

function batchFacts({ card, header }: ToldRun, manner: Manner): Fact[] {
  const { profile } = header;
  const room = [
    card.roomC === null ? '' : `${degrees(card.roomC, manner)} ${unitSign(manner)}`,
    card.roomHumidity === null ? '' : `${figure(card.roomHumidity, 0, manner)} % relative humidity`,
  ].filter((part) => part !== '');
  return [
    ['Lot', card.lot ?? NOT_NOTED],
    ['Centre', card.centre ?? NOT_NOTED],
    ['Quantity', card.kg === null ? NOT_NOTED : `${figure(card.kg, 3, manner)} kg`],
    [ALLERGENS, card.allergens ?? NOT_NOTED],
    ['Room', room.length === 0 ? NOT_NOTED : room.join(', ')],
    ['Coating', `${profile.coating}; profile ${profile.title}`],
    ['Numbers from', profile.source],
  ];
}

function measuredFacts(told: ToldRun, manner: Manner): Fact[] {
  const { stored, header, beganAtMs, endMs, wallMsOf } = told;
  const { condition } = header;
  const { probeLagS } = headerAtEnd(told);
  const { importedAtWall } = stored;
  const began = `${clock(wallMsOf(beganAtMs))} to ${clock(wallMsOf(endMs))}, ${span(endMs - beganAtMs)}`;
  return [
    ['Time', stored.endedAtMs === null ? `${began}, still going` : began],
    ['At the start', condition === null ? NOT_NOTED : `${condition} chocolate`],
    ['Probe', stored.simulated ? 'none: a simulated bowl' : stored.source],
    ['Lag of the probe', probeLagS === null ? 'not measured' : `${figure(probeLagS, 1, manner)} s to 63 % of a step`],
    ...probeFacts(told, manner),
    ...(importedAtWall === null ? [] : [['Brought in', `from a file, ${day(Date.parse(importedAtWall))}`] as const]),
  ];
}

/** The run in figures, of its estimated curve. */
export function accountOfRun({ header, view, tiles, endMs }: ToldRun): Account {
  return accountOfColumns(header.profile, view, tiles, endMs);
}

/** A row for each stay in a phase; of more than `most` the first are left out and counted. */
export function phasesOf(told: ToldRun, manner: Manner, most: number): string {
  const { stays } = accountOfRun(told);
  const shown = stays.slice(-most);
  const left = stays.length - shown.length;
  const unit = unitSign(manner);
  const head = [
    'Phase',
    'From',
    'For',
    `Band, ${unit}`,
    `Lowest, ${unit}`,
    `Highest, ${unit}`,
    'In band',
    'Not read',
    'Over ceiling',
    'Under floor',
  ];
  const rows = shown.map((stay) => element('tr', {}, ...stayCells(stay, told, manner).map((cell) => text('td', cell))));
  const more =
    left === 0
      ? ''
      : element('tr', {}, element('td', { colspan: head.length }, escaped(`${left} earlier in the file`)));
  return wide(
    'The phases',
    element(
      'table',
      { class: 'phases' },
      element('caption', {}, 'Phases, by our estimate of the chocolate'),
      element('thead', {}, element('tr', {}, ...head.map((name) => element('th', { scope: 'col' }, escaped(name))))),
      element('tbody', {}, more, ...rows),
    ),
  );
}

/** What is wider than a small screen: there it is moved along, by keys too. */
export function wide(label: string, content: string): string {
  return element('div', { class: 'wide', tabindex: 0, role: 'group', 'aria-label': label }, content);
}

function stayCells(stay: Stay, told: ToldRun, manner: Manner): string[] {
  const [lowC, highC] = stay.bandC;
  const phase = phaseOf(told, stay.phase);
  const temperature = (valueC: number | null): string => (valueC === null ? '–' : degrees(valueC, manner));
  const seldom = (seconds: number): string => (seconds === 0 ? 'never' : span(seconds * 1000));
  const outside = (bound: number | null, seconds: number): string => (bound === null ? '–' : seldom(seconds));
  return [
    `${asName(stay.phase)}${isReached(stay, told) ? '' : ', not reached'}`,
    clock(told.wallMsOf(stay.enteredAtMs)),
    span(stay.lastedS * 1000),
    `${bound(lowC, manner)} to ${bound(highC, manner)}`,
    temperature(stay.lowestC),
    temperature(stay.highestC),
    span(stay.insideBandS * 1000),
    seldom(stay.unseenS),
    outside(...overCeilings(stay)),
    outside(stay.heading === 'up' ? null : (phase?.floorC ?? null), stay.underFloorS),
  ];
}

/** The last ceiling over it, and how long it was over any. */
function overCeilings({ ceilings }: Stay): [limitC: number | null, overS: number] {
  const limits = ceilings.flatMap(({ limitC }) => limitC ?? []);
  return [limits.at(-1) ?? null, ceilings.reduce((sum, { overS }) => sum + overS, 0)];
}

/** A band that asks for no dwell is left at the moment it is reached. */
function isReached(stay: Stay, { view }: ToldRun): boolean {
  const next = view.visits[view.visits.findIndex(({ enteredAtMs }) => enteredAtMs === stay.enteredAtMs) + 1];
  return stay.reached || next?.by === 'reached';
}

/** One line for each: when, and what. */
export function happenedRows(told: ToldRun, happened: readonly Happening[]): string {
  const rows = happened.map(({ atMs, kind, words }) =>
    element('li', { class: `is-${kind}` }, text('time', clock(told.wallMsOf(atMs))), text('span', words)),
  );
  return element('ol', { class: 'happened' }, ...rows);
}

/** How the temper stood at the end, how the pieces were left to set, and what was found. */
export function judgedOf({ view, card }: ToldRun): Fact[] {
  const { standing, ended } = view;
  const names = ended === null ? STANDING_NAME : STANDING_AT_END;
  const stood = standing === null ? 'Not known' : `${names[standing.standing]}: ${STANDING_WHY[standing.why]}`;
  return [
    ['Temper', stood],
    ['Set', card.setting === null ? NOT_NOTED : settingWords(card.setting)],
    ['Verdict', card.outcome === null ? 'not judged yet' : outcomeWords(card.outcome)],
  ];
}

function settingWords({ place, minutes, startedAtWall }: Setting): string {
  const where = place === 'cool-air' ? 'in cool moving air' : 'at room temperature';
  return `${minutes} min ${where}, from ${clock(Date.parse(startedAtWall))}`;
}

const FOUND = { streaks: 'streaks', fatBloom: 'fat bloom', sugarBloom: 'sugar bloom', soft: 'soft' } as const;

function outcomeWords(outcome: Outcome): string {
  const { verdict, gloss, snap, release, words } = outcome;
  const named = [
    gloss === null ? null : `gloss ${gloss}`,
    snap === null ? null : `snap ${snap}`,
    release === null ? null : `release ${release.replaceAll('-', ' ')}`,
    ...(Object.keys(FOUND) as (keyof typeof FOUND)[]).map((key) =>
      outcome[key] === null ? null : `${outcome[key] ? '' : 'no '}${FOUND[key]}`,
    ),
  ].filter((part) => part !== null);
  return `${capital(verdict)}${named.length === 0 ? '' : `: ${named.join(', ')}`}${words === null ? '' : `. ${words}`}`;
}

/** What no paper may be without. */
export const ADVICE = 'Bowlside advises; the strip test decides. What is called in temper is an estimate.';
