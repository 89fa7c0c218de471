/** What is said of runs laid over one another: figures in a table, and how each differs from the first. Pure. */
import type { Laid } from '../../compare.ts';
import { phaseS, phasesOf } from '../../compare.ts';
import { apart, degrees, span } from '../measure.ts';
import { lasted } from '../lasted.ts';
import { phaseName } from '../names.ts';
import { OUTCOME_CHOICES } from '../outcome.ts';
import { standingAtEnd } from '../standing.ts';

export const COMPARE = {
  coming: 'Fetching them.',
  act: (count: number) => `${['No', 'One', 'Two', 'Three', 'Four', 'Five', 'Six'][count] ?? count} runs, laid over.`,
  atStart: 'Each from its start.',
  atPhase: (phase: string) => `Each from where it entered: ${phase}.`,
  tooFew: 'Two runs are wanted.',
  choose: 'Tick two to six of them in the list.',
  notHere: (count: number) => (count === 1 ? 'One of them isn’t here.' : `${count} of them aren’t here.`),
  align: 'Bring them together at',
  start: 'Start',
  without: (letters: string, phase: string) => `Not drawn, as it never entered ${phase}: ${letters}.`,
  table: 'In figures',
  figure: 'Figure',
  differences: (letter: string) => `Against ${letter}`,
  band: (low: string, high: string) => `${low}–${high}`,
  withUnit: (degrees: string, unit: string) => `${degrees} ${unit}`,
  minutes: (minutes: number) => `${minutes} min`,
  chart: (runs: string, phase: string) => `Curves of ${runs}. ${phase} The table below has the figures.`,
  named: (letter: string, name: string) => `${letter}: ${name}`,
};

const NOTHING = '–';

export interface FigureRow {
  readonly title: string;
  /** One for each run, in their order. */
  readonly cells: readonly string[];
}

export function figureRows(laid: readonly Laid[]): readonly FigureRow[] {
  const row = (title: string, cellOf: (each: Laid) => string): FigureRow => ({ title, cells: laid.map(cellOf) });
  const orNothing = (value: number | null, words: (value: number) => string): string =>
    value === null ? NOTHING : words(value);
  return [
    ...phasesOf(laid).map((phase) => row(phaseName(phase), (each) => orNothing(phaseS(each, phase), lasted))),
    row('Coolest', ({ account }) => orNothing(account.coolestC, degrees)),
    row('Highest after it', ({ account }) => orNothing(account.peakAfterSeedC, degrees)),
    row('Over the working ceiling', ({ account }) => lasted(account.overS)),
    row('Under the floor', ({ account }) => lasted(account.underS)),
    row('Standing at the end', ({ view }) => standingAtEnd(view.standing?.standing ?? null)),
    row('Judged', ({ card }) => verdictOf(card?.outcome?.verdict)),
  ];
}

function verdictOf(verdict: 'good' | 'usable' | 'failed' | undefined): string {
  return verdict === undefined ? 'not yet' : OUTCOME_CHOICES.verdict[verdict];
}

/** Smaller differences are not told: s, as a share of the first's time, °C, s outside of a bound (ours). */
const TOLD_S = 60;
const TOLD_SHARE = 0.1;
const TOLD_C = 0.2;
const TOLD_OUTSIDE_S = 30;

/** How a run differs from the first, in a sentence. */
export function differenceWords(first: Laid, other: Laid): string {
  const told = [
    ...phasesOf([first, other]).flatMap((phase) => phaseDifference(first, other, phase)),
    ...degreesDifference(first.account.coolestC, other.account.coolestC, 'cooled', 'less deep', 'deeper'),
    ...degreesDifference(first.account.peakAfterSeedC, other.account.peakAfterSeedC, 'peak', 'higher', 'lower'),
    ...outsideDifference(first.account.overS, other.account.overS, 'over the working ceiling'),
    ...outsideDifference(first.account.underS, other.account.underS, 'under the floor'),
    ...verdictDifference(first, other),
  ];
  return told.length === 0 ? `${other.letter}: much the same.` : `${other.letter}: ${told.join('; ')}.`;
}

function phaseDifference(first: Laid, other: Laid, phase: string): readonly string[] {
  const [a, b] = [phaseS(first, phase), phaseS(other, phase)];
  const name = phaseName(phase);
  if (a === null && b !== null) return [`${name}, which ${first.letter} never entered`];
  if (a !== null && b === null) return [`never entered ${name}`];
  if (a === null || b === null || Math.abs(b - a) < Math.max(TOLD_S, TOLD_SHARE * a)) return [];
  return [`${name} ${span(Math.abs(b - a))} ${b > a ? 'longer' : 'shorter'}`];
}

function degreesDifference(
  a: number | null,
  b: number | null,
  what: string,
  higher: string,
  lower: string,
): readonly string[] {
  if (a === null || b === null || Math.abs(b - a) < TOLD_C) return [];
  return [`${what} ${apart(Math.abs(b - a))} ${b > a ? higher : lower}`];
}

function outsideDifference(a: number, b: number, where: string): readonly string[] {
  if (Math.abs(b - a) < TOLD_OUTSIDE_S) return [];
  return [`${lasted(Math.abs(b - a))} ${b > a ? 'more' : 'less'} ${where}`];
}

function verdictDifference(first: Laid, other: Laid): readonly string[] {
  const [a, b] = [first.card?.outcome?.verdict, other.card?.outcome?.verdict];
  return a === b || a === undefined || b === undefined ? [] : [`judged ${verdictOf(b)}, not ${verdictOf(a)}`];
}
