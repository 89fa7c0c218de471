/** What this viewer has set for the page, kept in this browser: unit, colours, far view. Everything that follows from it is put in place here. */
import { keep, kept } from './kept.ts';
import { sayAsIn, sayIn } from './words/manner.ts';
import type { Unit } from './words/manner.ts';

/** auto: as the system has it. */
export type Look = 'auto' | 'light' | 'dark' | 'strong';

export interface Viewer {
  readonly unit: Unit;
  readonly look: Look;
  /** Sentence and number alone, for across the room. */
  readonly isFar: boolean;
  /** Has read that the screen may go dark. */
  readonly knowsSleep: boolean;
  /** The best runs are drawn behind the curve. Absent: no. */
  readonly seesBest?: boolean;
}

const KEPT = 'viewer';
const NEW_VIEWER: Viewer = { unit: 'C', look: 'auto', isFar: false, knowsSleep: false };
const LOOKS: readonly unknown[] = ['auto', 'light', 'dark', 'strong'];

let now: Viewer = NEW_VIEWER;
const listeners = new Set<() => void>();
const wantsStrong = matchMedia('(prefers-contrast: more)');
const wantsDark = matchMedia('(prefers-color-scheme: dark)');

/** Takes up what was kept; to be called once, before anything is drawn. */
export function startViewer(): void {
  now = kept(KEPT, isViewer, NEW_VIEWER);
  sayAsIn(navigator.language);
  for (const wish of [wantsStrong, wantsDark]) wish.addEventListener('change', putInPlace);
  putInPlace();
}

export function viewer(): Viewer {
  return now;
}

export function changeViewer(part: Partial<Viewer>): void {
  now = { ...now, ...part };
  keep(KEPT, now);
  putInPlace();
}

/** Calls back after every change; returns how to stop that. */
export function onViewer(listener: () => void): () => void {
  listeners.add(listener);
  return () => listeners.delete(listener);
}

function putInPlace(): void {
  sayIn(now.unit);
  document.documentElement.dataset['look'] = now.look === 'auto' ? systemLook() : now.look;
  for (const listener of listeners) listener();
}

function systemLook(): Exclude<Look, 'auto'> {
  if (wantsStrong.matches) return 'strong';
  return wantsDark.matches ? 'dark' : 'light';
}

function isViewer(value: unknown): value is Viewer {
  if (typeof value !== 'object' || value === null) return false;
  const { unit, look, isFar, knowsSleep, seesBest } = value as Readonly<Record<string, unknown>>;
  const isUnit = unit === 'C' || unit === 'F';
  const isBest = seesBest === undefined || typeof seesBest === 'boolean';
  return isUnit && LOOKS.includes(look) && typeof isFar === 'boolean' && typeof knowsSleep === 'boolean' && isBest;
}
