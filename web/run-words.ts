/** What a run's line says of it, in few words. Pure. */
import { BIN_DAYS } from '../server/core/show/listed.ts';
import type { RunLine } from './run-list.ts';
import { COATING_NAME, LIBRARY, RUNS, VERDICT_NAME } from './words/library.ts';
import { marked } from './words/manner.ts';
import { day } from './words/day.ts';
import { apart, clock, span } from './words/measure.ts';
import { ALARM_NAME, phaseName } from './words/names.ts';

/** Less than this over the ceiling is not worth a word, °C: it would be said as 0.0. */
const LEAST_OVER_C = 0.05;
const NO_BREAK = '\u00a0';
const DAY_MS = 86_400_000;

type Line = RunLine;

/** By its own name, or by that of its profile. */
export function nameOf({ name, title }: Pick<Line, 'name' | 'title'>): string {
  return name ?? title;
}

/** Tue, Nov 24, 13:40; with the year where it is not this one. */
export function dateOf(wall: string, now: Date): string {
  return `${day(wall, now)}, ${clock(wall, 0, 0)}`;
}

/** Dark chocolate, Bowl 2, Tue, Nov 24, 13:40, 1 h 58 min, 2.5 kg, brought in Thu, Nov 26. */
export function factsOf(run: Line, now: Date): string {
  const length = run.endedAtMs === null ? RUNS.stillGoing : span(run.durationMs / 1000).replaceAll(' ', NO_BREAK);
  const kg = run.kg === null ? [] : [LIBRARY.kg(marked(String(run.kg)))];
  const facts = [
    ...kindOf(run),
    ...bowlOf(run),
    dateOf(run.beganAtWall, now),
    length,
    ...kg,
    ...broughtIn(run, now),
  ].join(', ');
  return run.simulated ? `${facts}${RUNS.simulated}` : facts;
}

/** The day on which it was brought in from a file; none: it was recorded here. */
export function broughtIn({ importedAtWall }: Pick<Line, 'importedAtWall'>, now: Date): readonly string[] {
  return importedAtWall === null ? [] : [RUNS.broughtIn(day(importedAtWall, now).replaceAll(' ', NO_BREAK))];
}

/** Where there were several when it began. */
function bowlOf({ bowlName }: Line): readonly string[] {
  return bowlName === null ? [] : [bowlName];
}

/** The profile where the run is called otherwise, and the coating where no name says it. */
function kindOf(run: Line): readonly string[] {
  const coating = COATING_NAME[run.coating] ?? run.coating;
  const says = (text: string): boolean => text.toLowerCase().includes(coating.toLowerCase());
  if (run.name === null) return says(run.title) ? [] : [LIBRARY.coated(coating)];
  return says(run.title) ? [run.title] : [run.title, LIBRARY.coated(coating)];
}

/** What a person wrote on its card, but for its name: lot G-7, candied ginger, gift. Empty where there is nothing. */
export function writtenOf({ lot, centre, tags }: Line): string {
  return [lot === null ? null : LIBRARY.lot(lot), centre, ...tags].filter((each) => each !== null).join(', ');
}

/** 0.4 over the ceiling, judged good. */
export function outcomeOf({ worstAlarm, worstOverC, verdict, standing, visits }: Line): string {
  const worst = worstOverC !== null && worstOverC >= LEAST_OVER_C ? RUNS.over(apart(worstOverC)) : null;
  // One that was never in temper came to no ceiling of the work either: how far it came is what there is to say.
  const last = standing === 'not-made-yet' ? visits.at(-1) : undefined;
  const calm = last === undefined ? RUNS.neverOver : RUNS.cameTo(phaseName(last.phase));
  const said = worst ?? (worstAlarm === null ? calm : ALARM_NAME[worstAlarm]);
  return verdict === null ? said : `${said}, ${LIBRARY.judged(VERDICT_NAME[verdict])}`;
}

/** Days before what lies in the bin is deleted by itself; none where its time is over. */
export function daysLeft(binnedAtWall: string, now: Date): number {
  return Math.max(0, Math.ceil(BIN_DAYS - (now.getTime() - Date.parse(binnedAtWall)) / DAY_MS));
}
