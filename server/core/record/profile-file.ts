/**
 * Text or JSON to a profile, with an exact complaint for each thing wrong: file, path, value, rule.
 * Reads no disk and knows no coating; what the fields mean is in profile.ts.
 */
import { jsonFault } from './json-text.ts';
import { nearMiss } from './near-miss.ts';
import type { Band, Heading, Profile } from './profile.ts';

export interface Complaint {
  /** As the caller named it. */
  readonly file: string;
  /** `phases.cool.bandC`; `line 3, column 7` where the text is not JSON; empty for the file as a whole. */
  readonly path: string;
  /** What was found, as JSON, cut short; `nothing` where something is missing. */
  readonly value: string;
  readonly rule: string;
}

export type ParsedProfile =
  { readonly ok: true; readonly profile: Profile } | { readonly ok: false; readonly complaints: readonly Complaint[] };

/** No profile goes outside, °C: from a freezer to cooked sugar past caramel. Ours. */
export const PROFILE_RANGE_C: Band = [-20, 200];
/** A day: longer is a slip of the unit, s. Ours. */
export const MAX_HOLD_S = 86_400;

/** Longest id, characters (ours: it is a file name too, of at most 255 bytes on the usual systems, and a letter may take four). */
export const ID_MAX_CHARS = 60;
/** Ids stand in file names, addresses and `sources` paths: no blank, dot or slash. */
const ID = /^[\p{L}\p{N}]+(?:[-_][\p{L}\p{N}]+)*$/u;
export const HEADINGS: readonly Heading[] = ['up', 'down', 'hold'];
const PROFILE_KEYS = ['id', 'title', 'coating', 'source', 'sources', 'onLost', 'phases'];
const PHASE_KEYS = ['id', 'heading', 'bandC', 'ceilingC', 'floorC', 'holdS', 'lostAboveC', 'cue'];
/** As much of a wrong value as helps to find it, characters. */
const SHOWN_LENGTH = 60;

/** A profile from the text of a file; every complaint at once, in the file's order. A byte order mark is passed over. */
export function parseProfile(text: string, file: string): ParsedProfile {
  const plain = text.startsWith('\uFEFF') ? text.slice(1) : text;
  const fault = jsonFault(plain);
  if (fault === null) return profileFromJson(JSON.parse(plain), file);
  const line = plain.split('\n')[fault.line - 1] ?? '';
  const path = `line ${fault.line}, column ${fault.column}`;
  const value = cut(line.slice(fault.column - 1).trim()) || 'nothing';
  return { ok: false, complaints: [{ file, path, value, rule: `not JSON: ${fault.rule}` }] };
}

/** The same for a value that is no longer text: in the header of a trace, or in a command. */
export function profileFromJson(value: unknown, file: string): ParsedProfile {
  const complaints: Complaint[] = [];
  checkProfile(value, (path, found, rule) => complaints.push({ file, path, value: shown(found), rule }));
  return complaints.length === 0 ? { ok: true, profile: value as Profile } : { ok: false, complaints };
}

/** One line for a person: `dark.json: phases.cool.bandC: the low edge must be under the high edge (found [28,27])`. */
export function complaintText({ file, path, value, rule }: Complaint): string {
  return [file, path, `${rule} (found ${value})`].filter((part) => part !== '').join(': ');
}

type Complain = (path: string, found: unknown, rule: string) => void;
type Fields = Readonly<Record<string, unknown>>;

function checkProfile(profile: unknown, complain: Complain): void {
  if (!isObject(profile)) return complain('', profile, 'a profile is one JSON object');
  checkKeys(profile, '', PROFILE_KEYS, complain);
  checkId(profile['id'], 'id', complain);
  for (const key of ['title', 'coating', 'source']) checkWords(profile[key], key, complain);
  checkPhases(profile['phases'], complain);
  checkOnLost(profile, complain);
  if ('sources' in profile) checkSources(profile, complain);
}

function checkPhases(phases: unknown, complain: Complain): void {
  if (!Array.isArray(phases)) return complain('phases', phases, 'must be a list of phases');
  if (phases.length === 0) complain('phases', phases, 'must have at least one phase');
  const paths = phasePaths(phases);
  phases.forEach((phase: unknown, index) => {
    const path = paths[index]!;
    if (!isObject(phase)) return complain(path, phase, 'a phase is a JSON object');
    checkPhase(phase, path, complain);
    const first = phases.findIndex((other: unknown) => isObject(other) && other['id'] === phase['id']);
    if (first !== index && typeof phase['id'] === 'string')
      complain(`${path}.id`, phase['id'], `ids must differ: phases[${first}] has this one already`);
  });
}

/** A phase is called by its id, as in `sources`; by its place (from 0) where the id does not serve. */
function phasePaths(phases: readonly unknown[]): string[] {
  const ids = phases.map((phase) => (isObject(phase) ? phase['id'] : undefined));
  return ids.map((id, index) => (isId(id) && ids.indexOf(id) === index ? `phases.${id}` : `phases[${index}]`));
}

function checkPhase(phase: Fields, path: string, complain: Complain): void {
  checkKeys(phase, path, PHASE_KEYS, complain);
  checkId(phase['id'], `${path}.id`, complain);
  if (!HEADINGS.includes(phase['heading'] as Heading))
    complain(`${path}.heading`, phase['heading'], 'must be "up", "down" or "hold"');
  checkBounds(phase, path, complain);
  if ('holdS' in phase && !isNumberIn(phase['holdS'], [0, MAX_HOLD_S]))
    complain(`${path}.holdS`, phase['holdS'], `must be a number of seconds from 0 to ${MAX_HOLD_S}`);
  if ('cue' in phase) checkWords(phase['cue'], `${path}.cue`, complain);
}

/** floor ≤ low < high ≤ ceiling ≤ lost, each compared with its neighbours that are there and are numbers. */
function checkBounds(phase: Fields, path: string, complain: Complain): void {
  const band = phase['bandC'];
  if (!Array.isArray(band) || band.length !== 2 || !band.every((edge) => isNumberIn(edge, PROFILE_RANGE_C)))
    complain(`${path}.bandC`, band, `must be [low, high], two numbers ${RANGE_WORDS}`);
  for (const key of ['ceilingC', 'floorC', 'lostAboveC']) {
    if (key in phase && !isNumberIn(phase[key], PROFILE_RANGE_C))
      complain(`${path}.${key}`, phase[key], `must be a number ${RANGE_WORDS}`);
  }
  const [low, high]: readonly unknown[] = Array.isArray(band) ? band : [];
  const { floorC, ceilingC, lostAboveC } = phase;
  if (isNumber(low) && isNumber(high) && low >= high)
    complain(`${path}.bandC`, band, 'the low edge must be under the high edge');
  if (isNumber(floorC) && isNumber(low) && floorC > low)
    complain(`${path}.floorC`, floorC, `must not be above the band's low edge, ${low}`);
  if (isNumber(ceilingC) && isNumber(high) && ceilingC < high)
    complain(`${path}.ceilingC`, ceilingC, `must not be below the band's high edge, ${high}`);
  const lostOver = isNumber(ceilingC) ? ceilingC : high;
  if (isNumber(lostAboveC) && isNumber(lostOver) && lostAboveC < lostOver)
    complain(
      `${path}.lostAboveC`,
      lostAboveC,
      `must not be below the ${isNumber(ceilingC) ? 'ceiling' : "band's high edge"}, ${lostOver}`,
    );
}

const RANGE_WORDS = `from ${PROFILE_RANGE_C[0]} to ${PROFILE_RANGE_C[1]} °C`;

function checkOnLost({ onLost, phases }: Fields, complain: Complain): void {
  if (onLost === undefined) return;
  const ids = phaseList(phases).map((phase) => phase['id']);
  if (typeof onLost !== 'string' || !ids.includes(onLost))
    complain('onLost', onLost, `must be the id of a phase${ids.length > 0 ? `: ${ids.join(', ')}` : ''}`);
}

function checkSources(profile: Fields, complain: Complain): void {
  const sources = profile['sources'];
  if (!isObject(sources)) return complain('sources', sources, 'must be an object of texts, keyed by path');
  const known = sourcePaths(profile);
  for (const [path, words] of Object.entries(sources)) {
    if (!known.includes(path))
      complain(`sources.${path}`, words, `there is no "${path}" in this profile${didYouMean(path, known)}`);
    else checkWords(words, `sources.${path}`, complain);
  }
}

/** What a source may be given for: `onLost`, `phases.cool`, `phases.cool.bandC`. */
function sourcePaths(profile: Fields): string[] {
  const top = Object.keys(profile).filter((key) => PROFILE_KEYS.includes(key) && key !== 'sources');
  const inPhases = phaseList(profile['phases']).flatMap((phase) => {
    const path = `phases.${String(phase['id'])}`;
    return [path, ...Object.keys(phase).map((key) => `${path}.${key}`)];
  });
  return [...top, ...inPhases];
}

function checkKeys(object: Fields, path: string, known: readonly string[], complain: Complain): void {
  for (const key of Object.keys(object)) {
    if (known.includes(key)) continue;
    complain(path === '' ? key : `${path}.${key}`, object[key], `unknown key${didYouMean(key, known)}`);
  }
}

function didYouMean(word: string, known: readonly string[]): string {
  const meant = nearMiss(word, known);
  return meant === null ? '' : `; did you mean "${meant}"?`;
}

function checkId(id: unknown, path: string, complain: Complain): void {
  if (!isId(id)) complain(path, id, `must be letters and digits, joined by single hyphens, at most ${ID_MAX_CHARS}`);
}

function checkWords(words: unknown, path: string, complain: Complain): void {
  if (typeof words !== 'string' || words.trim() === '') complain(path, words, 'must be a text that is not empty');
}

function isId(id: unknown): id is string {
  return typeof id === 'string' && Array.from(id).length <= ID_MAX_CHARS && ID.test(id);
}

function isNumber(value: unknown): value is number {
  return typeof value === 'number' && Number.isFinite(value);
}

function isNumberIn(value: unknown, [least, most]: Band): value is number {
  return isNumber(value) && value >= least && value <= most;
}

function isObject(value: unknown): value is Fields {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function phaseList(phases: unknown): Fields[] {
  return Array.isArray(phases) ? phases.filter(isObject) : [];
}

function shown(value: unknown): string {
  if (value === undefined) return 'nothing';
  if (typeof value === 'number') return String(value);
  return cut(JSON.stringify(value));
}

function cut(text: string): string {
  return text.length > SHOWN_LENGTH ? `${text.slice(0, SHOWN_LENGTH - 1)}…` : text;
}
