/**
 * A stored run as it is told to people on paper: the same fold as the page's, its card, its phases, and what happened as lines in the
 * order of time. Knows no paper and no picture.
 */
import { type Card, cardOf } from '../core/record/card.ts';
import type { Role } from '../core/record/command.ts';
import type { RunEvent } from '../core/record/event.ts';
import { knownAfter } from '../core/record/probe.ts';
import type { Phase } from '../core/record/profile.ts';
import type { Corrected, RunHeader } from '../core/record/run.ts';
import { beganAtMs, foldEvents, foldNote, openView, type PastAlarm, type View } from '../core/show/view.ts';
import type { NoteInfo, Tile } from '../core/show/wire.ts';
import type { StoredRun } from '../store/records.ts';
import { ACT_NAME, ALARM_NAME, cueTold, enteredBy, STANDING_NAME, STANDING_WHY } from '../names.ts';
import { asName, bound, capital, degrees, type Manner, shift, span, unitSign } from './manner.ts';

export interface ToldRun {
  readonly stored: StoredRun;
  readonly header: RunHeader;
  readonly view: View;
  readonly card: Card;
  /** Its curve, oldest first. */
  readonly tiles: readonly Tile[];
  /** Time into the run counts from here. */
  readonly beganAtMs: number;
  readonly endMs: number;
  /** Wall clock of a moment on the run's own clock, ms. */
  readonly wallMsOf: (atMs: number) => number;
}

export function toldRun(stored: StoredRun, tiles: readonly Tile[]): ToldRun {
  const { run, header, simulated, startedAtMs, startedAtWall, events, notes, card } = stored;
  const { profile, condition, probeLagS } = header;
  const info = { run, profile, condition, simulated, startedAtMs, startedAtWall, probeLagS, resumed: false };
  const lasts = [stored.endedAtMs ?? undefined, events.at(-1)?.atMs, tiles.at(-1)?.[0]];
  const view = notes.reduce(foldNote, foldEvents(openView(info), events));
  return {
    stored,
    header,
    view,
    card: cardOf(card),
    tiles,
    beganAtMs: beganAtMs(info, view.visits),
    endMs: Math.max(startedAtMs, ...lasts.filter((atMs) => atMs !== undefined)),
    wallMsOf: (atMs) => Date.parse(startedAtWall) + (atMs - startedAtMs),
  };
}

/** A probe of the run as it was corrected last: before the run, or in it. */
export interface ToldProbe extends Corrected {
  /** null: what is said is said of the thermometer in the chocolate. */
  readonly channel: string | null;
}

/** The chocolate's thermometer, and those of its channels that have a correction of their own. */
export function toldProbes(told: Pick<ToldRun, 'stored' | 'header'>): readonly ToldProbe[] {
  const { correction, check = null, corrections = {} } = headerAtEnd(told);
  const ofChannels = Object.entries(corrections).map(([channel, own]) => ({ channel, ...own }));
  const isSaid = check !== null || correction.offsetC !== 0 || correction.gain !== 1;
  // Where its channels are known by themselves, nothing said of the whole says nothing of the chocolate.
  return ofChannels.length > 0 && !isSaid ? ofChannels : [{ channel: null, correction, check }, ...ofChannels];
}

/** What was known of the chocolate's thermometer at the end: a check, or another role, may have come in the run. */
export function headerAtEnd({ stored, header }: Pick<ToldRun, 'stored' | 'header'>): RunHeader {
  return stored.events.reduce(headerAfter, header);
}

function headerAfter(header: RunHeader, event: RunEvent): RunHeader {
  switch (event.kind) {
    case 'correction-changed': {
      const { offsetC, gain, check, channel } = event;
      const said = { offsetC, gain, ...(check && { check }), ...(channel !== undefined && { channel }) };
      return knownAfter(header, { name: 'set-correction', ...said });
    }
    case 'role-changed': {
      const { channel, role, sensor, lagS = header.probeLagS, source } = event;
      const said = { channel, role: role as Role, ...(sensor && { sensor }) };
      const known = source === undefined ? knownAfter(header, { name: 'assign-role', ...said }) : header;
      return { ...known, probeLagS: lagS };
    }
    default:
      return header;
  }
}

/** What the run is called. */
export function nameOf({ card, header }: ToldRun): string {
  return card.name ?? header.profile.title;
}

/** A phase of the profile; undefined where the run went on under another profile that has others. */
export function phaseOf({ header }: ToldRun, id: string): Phase | undefined {
  return header.profile.phases.find((phase) => phase.id === id);
}

/** One line of what happened; `id` is that of its mark where it has one. */
export interface Happening {
  readonly id: string;
  readonly atMs: number;
  readonly kind: 'phase' | 'alarm' | 'act' | 'note' | 'said';
  readonly words: string;
  /** The same as short as it can be said. */
  readonly brief: string;
}

/** What happened and what was noted, in order of time; what was struck out is left out. */
export function happenings(told: ToldRun, manner: Manner): Happening[] {
  const { stored, view } = told;
  const struck = new Set(view.struck);
  const ofEvents = stored.events.flatMap((event): Happening[] => {
    const id = `event-${event.seq}`;
    const said = struck.has(id) ? null : saidOf(event, told, manner);
    return said === null ? [] : [{ id, atMs: event.atMs, brief: said.words, ...said }];
  });
  const ofNotes = stored.notes.flatMap((note): Happening[] => {
    const id = `note-${note.id}`;
    const brief = note.text.replaceAll(/\s+/g, ' ');
    return brief === '' || struck.has(id) ? [] : [{ id, atMs: note.atMs, kind: 'note', words: noteWords(note), brief }];
  });
  return [...ofEvents, ...ofNotes].toSorted((a, b) => a.atMs - b.atMs);
}

function noteWords({ text, by, tags, atMs, untilMs }: NoteInfo): string {
  const lasted = untilMs === undefined || untilMs === atMs ? '' : ` (for ${span(untilMs - atMs)})`;
  const tagged = tags === undefined || tags.length === 0 ? '' : ` [${tags.join(', ')}]`;
  return `${text.replaceAll(/\s+/g, ' ')}${lasted}${tagged}${by === null ? '' : `, ${by}`}`;
}

type Said = Pick<Happening, 'kind' | 'words'> & Partial<Pick<Happening, 'brief'>>;

/** Null for what nobody looks for on paper. */
function saidOf(event: RunEvent, told: ToldRun, manner: Manner): Said | null {
  switch (event.kind) {
    case 'phase-entered':
      return { kind: 'phase', words: `${asName(event.phase)}${enteredBy(event)}` };
    case 'alarm-raised':
      return {
        kind: 'alarm',
        words: raisedWords(event, told, manner),
        brief: capital(ALARM_NAME[event.alarm]),
      };
    case 'alarm-acknowledged':
      return {
        kind: 'said',
        words: `Seen${event.by === undefined ? '' : ` by ${event.by}`}: ${ALARM_NAME[event.alarm]}`,
      };
    case 'cue':
      return { kind: 'said', words: `Said: ${cueTold(event)}` };
    case 'standing':
      return { kind: 'said', words: `${STANDING_NAME[event.standing]}: ${STANDING_WHY[event.why]}` };
    case 'act':
      return { kind: 'act', words: capital(ACT_NAME[event.act]) };
    case 'link':
      return {
        kind: 'said',
        words: `Thermometer${event.source === undefined ? '' : ' beside the bowl'} ${event.up ? 'connected' : 'away'}`,
      };
    case 'probe':
      return { kind: 'said', words: event.state === 'out' ? 'Probe out of the bowl' : 'Probe back in the bowl' };
    case 'correction-changed':
      return {
        kind: 'said',
        words: `Correction of ${event.channel === undefined ? 'the probe' : `channel ${event.channel}`}: ${shift(event.offsetC, manner)}`,
      };
    case 'run-ended':
      return { kind: 'said', words: 'The run ended' };
    default:
      return null;
  }
}

function raisedWords(event: Extract<RunEvent, { kind: 'alarm-raised' }>, { view }: ToldRun, manner: Manner): string {
  const over = view.pastAlarms.find(({ alarm, raisedAtMs }) => alarm === event.alarm && raisedAtMs === event.atMs);
  return `${capital(ALARM_NAME[event.alarm])}${limitWords(event, manner)}${overWords(over, manner)}`;
}

/** The bowl that turned too soon may have been under its limit, but not for long enough. */
function limitWords({ alarm, limitC }: Extract<RunEvent, { kind: 'alarm-raised' }>, manner: Manner): string {
  if (limitC === null) return '';
  return ` (${alarm === 'not-cooled-enough' ? 'to be kept under' : 'limit'} ${bound(limitC, manner)} ${unitSign(manner)})`;
}

/** How long it lasted and how far it went, as far as that is known. */
export function overWords(past: PastAlarm | undefined, manner: Manner): string {
  if (past === undefined) return '';
  const far = past.extremeC === null ? '' : `, furthest ${degrees(past.extremeC, manner)} ${unitSign(manner)}`;
  return `, ${span(past.lastedMs)}${far}`;
}
