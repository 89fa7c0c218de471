/** The table of figures: tallies of many runs put into numbers, one column for each watcher. */
import { emptyTally, type Tally } from './tally.ts';

export interface Column {
  readonly name: string;
  /** Speaks of overshoots only: its other figures would mean nothing. */
  readonly foresightOnly?: boolean;
  readonly tallies: readonly Tally[];
}

interface Figure {
  readonly name: string;
  /** About where the bowl is going: what the oracle speaks of. */
  readonly foresight?: true;
  /** What is to be reached; empty where nothing is asked. */
  readonly goal: string;
  readonly of: (all: Tally) => string;
}

const FIGURES: readonly Figure[] = [
  { name: 'runs that got to the last phase', goal: 'all', of: (t) => share(t.followed, t.shouldFollow) },
  { name: 'phases entered > 0.5 °C away', goal: '0', of: (t) => `${t.phasesWrong} of ${t.phasesEntered}` },
  {
    name: 'overshoots ≥ 0.2 °C missed',
    foresight: true,
    goal: '0',
    of: (t) => `${t.overshootsMissed} of ${t.overshoots}`,
  },
  {
    name: 'overshoot alarm after crossing, median / 90th, s',
    foresight: true,
    goal: '– / 8',
    of: (t) => spread(t.overshootDelaysS, 1),
  },
  {
    name: 'overshoot alarms > 0.25 °C under, per hour',
    foresight: true,
    goal: '0.02',
    of: (t) => rate(t.overshootsFalse, t.hours),
  },
  {
    name: 'overshoots told before crossing',
    foresight: true,
    goal: '96 %',
    of: (t) => share(t.overshootsTold, t.overshoots),
  },
  { name: "lead ÷ oracle's lead, mean", foresight: true, goal: '0.70', of: (t) => mean(t.leadShares) },
  {
    name: 'overshoot-ahead, nothing coming, per hour',
    foresight: true,
    goal: '0.2',
    of: (t) => rate(t.aheadFalse, t.hours),
  },
  {
    name: 'overshoot-ahead per run never over',
    foresight: true,
    goal: '0.15',
    of: (t) => rate(t.aheadWhereNeverOver, t.neverOver),
  },
  {
    name: 'off-heat cues landing in the band',
    foresight: true,
    goal: '80 %',
    of: (t) => share(t.offHeatsInBand, t.offHeats),
  },
  { name: 'undershoots ≥ 0.2 °C missed', goal: '0', of: (t) => `${t.undershootsMissed} of ${t.undershoots}` },
  { name: 'temper lost told', goal: 'all', of: (t) => `${t.lostTold} of ${t.lost}` },
  { name: 'temper lost falsely told', goal: '0', of: (t) => `${t.lostFalse}` },
  { name: 'not cooled enough told', goal: 'all', of: (t) => `${t.underCooledTold} of ${t.underCooled}` },
  { name: 'not cooled enough falsely told', goal: '0', of: (t) => `${t.underCooledFalse}` },
  {
    name: 'arrival error ÷ time left, median / 90th',
    goal: '0.15 / 0.5',
    of: (t) => (t.etaAnswered === 0 ? '–' : spread(t.etaErrors, 2)),
  },
  { name: '… of those given', goal: '', of: (t) => spread(t.etaErrorsGiven, 2) },
  { name: 'arrival given', goal: '', of: (t) => share(t.etaAnswered, t.etaAsked) },
  {
    name: 'arrival inside its interval',
    goal: '75–88 %',
    of: (t) => (t.etaAnswered === 0 ? '–' : share(t.etaInside, t.etaAsked)),
  },
  { name: '… of those given', goal: '', of: (t) => share(t.etaInside, t.etaAnswered) },
  { name: 'error of temperature, 95th, °C', goal: '0.30', of: (t) => quantile(t.tempErrorsC, 0.95).toFixed(2) },
  { name: 'alarms in well-handled runs', goal: '0', of: (t) => alarms(t) },
  { name: 'readings per second', goal: '150000', of: (t) => ((t.readings / t.tookMs) * 1000).toFixed(0) },
];

/** The table as lines of text. */
export function tableOf(columns: readonly Column[]): string[] {
  const heads = ['figure', 'goal', ...columns.map((column) => column.name)];
  const sums = columns.map((column) => summed(column.tallies));
  const cells = (figure: Figure): string[] =>
    columns.map((column, index) =>
      column.foresightOnly && !figure.foresight ? '–' : figure.of(sums[index] ?? emptyTally()),
    );
  const rows = FIGURES.map((figure) => [figure.name, figure.goal, ...cells(figure)]);
  const widths = heads.map((_, index) => Math.max(...[heads, ...rows].map((row) => row[index]?.length ?? 0)));
  const table = [heads, ...rows].map((row) =>
    row
      .map((cell, index) => cell.padEnd(widths[index] ?? 0))
      .join('  ')
      .trimEnd(),
  );
  const named = columns.map((column, index) => alarmsByName(column.name, sums[index] ?? emptyTally()));
  return [...table, ...named.slice(0, 1)];
}

/** All tallies added up. */
export function summed(tallies: readonly Tally[]): Tally {
  const [first, ...rest] = tallies;
  if (first === undefined) throw new RangeError('nothing was watched');
  const sum: Tally = structuredClone(first);
  for (const tally of rest) add(sum, tally);
  return sum;
}

function add(sum: Tally, tally: Tally): void {
  for (const key of Object.keys(sum) as (keyof Tally)[]) {
    const into = sum[key];
    const from = tally[key];
    if (Array.isArray(into) && Array.isArray(from)) for (const one of from) (into as unknown[]).push(one);
    else if (typeof into === 'number' && typeof from === 'number') Object.assign(sum, { [key]: into + from });
  }
  for (const [name, count] of Object.entries(tally.alarmsWellHandled)) {
    sum.alarmsWellHandled[name] = (sum.alarmsWellHandled[name] ?? 0) + count;
  }
}

function share(part: number, whole: number): string {
  return whole === 0 ? '–' : `${((100 * part) / whole).toFixed(1)} % of ${whole}`;
}

function rate(count: number, per: number): string {
  return per === 0 ? '–' : `${(count / per).toFixed(3)} (${count})`;
}

function mean(values: readonly number[]): string {
  return values.length === 0 ? '–' : (values.reduce((sum, value) => sum + value, 0) / values.length).toFixed(2);
}

function spread(values: readonly number[], digits: number): string {
  if (values.length === 0) return '–';
  return `${quantile(values, 0.5).toFixed(digits)} / ${quantile(values, 0.9).toFixed(digits)}`;
}

/** The value below which this share of them lies; NaN of none. */
export function quantile(values: readonly number[], part: number): number {
  const sorted = Float64Array.from(values).toSorted();
  return sorted[Math.min(sorted.length - 1, Math.floor(part * sorted.length))] ?? Number.NaN;
}

function alarms(tally: Tally): string {
  const count = Object.values(tally.alarmsWellHandled).reduce((sum, one) => sum + one, 0);
  return `${count} in ${tally.wellHandled} runs`;
}

function alarmsByName(name: string, tally: Tally): string {
  const named = Object.entries(tally.alarmsWellHandled).map(([alarm, count]) => `${alarm} ${count}`);
  return `alarms in well-handled runs, ${name}: ${named.length === 0 ? 'none' : named.join(', ')}`;
}
