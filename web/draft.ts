/**
 * A profile while somebody types: its numbers may be anything a person writes, and what cannot be a number stays as it was written, so that
 * the server can say what is wrong with it. Pure; judges nothing.
 */
import type { Heading } from '../server/core/record/profile.ts';
import { fromUnit } from './words/manner.ts';

/** °C or seconds; a text where it is no number. */
export type Typed = number | string;

export interface DraftPhase {
  readonly id: string;
  readonly heading: Heading;
  readonly bandC: readonly [Typed, Typed];
  readonly ceilingC?: Typed;
  readonly floorC?: Typed;
  readonly holdS?: Typed;
  readonly lostAboveC?: Typed;
  readonly cue?: string;
}

export interface Draft {
  readonly id: string;
  readonly title: string;
  readonly coating: string;
  readonly source: string;
  readonly sources?: Readonly<Record<string, string>>;
  readonly onLost?: string;
  readonly phases: readonly DraftPhase[];
}

/** The numbers of a phase that may be missing. */
export type LooseKey = 'ceilingC' | 'floorC' | 'holdS' | 'lostAboveC';

/** Bounds are kept to the hundredth of a degree. */
const HUNDREDTHS = 100;
const S_PER_MIN = 60;

/** A temperature as a person types it, in the viewer's unit, with a point or a comma; undefined: nothing. */
export function typedC(text: string): Typed | undefined {
  const value = typedNumber(text);
  return typeof value === 'number' ? Math.round(fromUnit(value) * HUNDREDTHS) / HUNDREDTHS : value;
}

/** Minutes, to seconds. */
export function typedMin(text: string): Typed | undefined {
  const value = typedNumber(text);
  return typeof value === 'number' ? Math.round(value * S_PER_MIN) : value;
}

function typedNumber(text: string): Typed | undefined {
  const plain = text.trim();
  if (plain === '') return undefined;
  return /^[-−]?\d+([.,]\d+)?$/.test(plain) ? Number(plain.replace(',', '.').replace('−', '-')) : plain;
}

/** As a bag says it: `31.5`, or from one to another: `31–32`, `31 - 32`, `31 to 32`. What is neither stays as it was typed. */
export function typedFigure(text: string): Typed | readonly [number, number] | undefined {
  const [low, high, ...more] = text.split(/\s*(?:[–—]|\bto\b|(?<=\d)\s*-)\s*/).map(typedC);
  if (high === undefined) return typedC(text);
  return typeof low === 'number' && typeof high === 'number' && more.length === 0 ? [low, high] : text.trim();
}

/** One edge of a band, 0 the low one. `yours`: what the source of a number says that somebody changed by hand. */
export function withEdge(draft: Draft, phase: number, edge: 0 | 1, value: Typed | undefined, yours: string): Draft {
  const [low, high] = draft.phases[phase]!.bandC;
  const typed = value ?? '';
  return changed(draft, phase, 'bandC', { bandC: edge === 0 ? [typed, high] : [low, typed] }, yours);
}

/** A number that may be missing; then its source goes with it. */
export function withNumber(draft: Draft, phase: number, key: LooseKey, value: Typed | undefined, yours: string): Draft {
  if (value !== undefined) return changed(draft, phase, key, { [key]: value }, yours);
  const { [key]: _gone, ...rest } = draft.phases[phase]!;
  return withoutSources(withPhase(draft, phase, rest), (path) => path === pathOf(draft, phase, key));
}

export function withCue(draft: Draft, phase: number, cue: string): Draft {
  const { cue: _before, ...rest } = draft.phases[phase]!;
  return withPhase(draft, phase, cue.trim() === '' ? rest : { ...rest, cue });
}

/** What the profile said of this phase is gone with it. */
export function withoutPhase(draft: Draft, phase: number): Draft {
  const { id } = draft.phases[phase]!;
  const { onLost, ...rest } = draft;
  const phases = draft.phases.filter((_, i) => i !== phase);
  const isKept = onLost !== undefined && onLost !== id;
  const shorter = { ...rest, ...(isKept ? { onLost } : {}), phases };
  return withoutSources(
    shorter,
    (path) => path.startsWith(`phases.${id}.`) || path === `phases.${id}` || (path === 'onLost' && !isKept),
  );
}

/** How a number is called in `sources` and in what is said to be wrong with it. */
export function pathOf(draft: Draft, phase: number, key: LooseKey | 'bandC' | 'cue'): string {
  return `phases.${draft.phases[phase]!.id}.${key}`;
}

function changed(
  draft: Draft,
  phase: number,
  key: LooseKey | 'bandC',
  values: Partial<DraftPhase>,
  yours: string,
): Draft {
  const sources = { ...draft.sources, [pathOf(draft, phase, key)]: yours };
  return { ...withPhase(draft, phase, { ...draft.phases[phase]!, ...values }), sources };
}

function withPhase(draft: Draft, phase: number, next: DraftPhase): Draft {
  return { ...draft, phases: draft.phases.map((each, i) => (i === phase ? next : each)) };
}

function withoutSources(draft: Draft, isGone: (path: string) => boolean): Draft {
  if (draft.sources === undefined) return draft;
  return { ...draft, sources: Object.fromEntries(Object.entries(draft.sources).filter(([path]) => !isGone(path))) };
}
