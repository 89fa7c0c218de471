/**
 * All that a page shows of a run as data: a fold over its events and notes, the same for a live run, a snapshot and a past run.
 * Knows no clock, no readings and no words; whoever shows it brings those.
 */
import type { Act, Condition } from '../record/command.ts';
import type {
  AlarmName,
  CueName,
  RejectReason,
  RunEvent,
  Severity,
  Standing,
  StandingReason,
  StirReason,
} from '../record/event.ts';
import type { NoteInfo, RunInfo } from './wire.ts';

/** One stay in a phase. A phase can be visited more than once: after a step back, or after recovery. */
export interface PhaseVisit {
  readonly phase: string;
  readonly enteredAtMs: number;
  /** null while it lasts. */
  readonly leftAtMs: number | null;
  readonly by: 'reached' | 'hand' | 'recovery';
  /** When the near edge of its band was first reached, or null. */
  readonly reachedAtMs: number | null;
}

export interface ActiveAlarm {
  readonly alarm: AlarmName;
  readonly severity: Severity;
  readonly phase: string;
  readonly raisedAtMs: number;
  readonly valueC: number | null;
  readonly limitC: number | null;
  /** For the `-ahead` alarms, as told when it was raised: seconds to the bound and the extreme of that course, °C. */
  readonly inS: number | null;
  readonly peakC: number | null;
  readonly acknowledged: boolean;
  readonly acknowledgedAtMs: number | null;
  readonly acknowledgedBy: string | null;
  /** Sound only; feed clock. */
  readonly quietUntilMs: number | null;
}

/** An alarm that is over. */
export interface PastAlarm {
  readonly alarm: AlarmName;
  readonly severity: Severity;
  readonly phase: string;
  readonly raisedAtMs: number;
  readonly clearedAtMs: number;
  readonly limitC: number | null;
  readonly extremeC: number | null;
  readonly lastedMs: number;
}

export interface ShownCue {
  readonly cue: CueName;
  readonly phase: string;
  readonly atMs: number;
  readonly inS: number | null;
  readonly landsC: number | null;
  readonly bathC: number | null;
  readonly why: StirReason | null;
}

/** Something to point at on the curve. `id` is unique within the run. */
export type Mark =
  | {
      readonly kind: 'note';
      readonly id: string;
      readonly atMs: number;
      /** Where it is about a span: the moment that ends it. */
      readonly untilMs?: number;
      readonly tags?: readonly string[];
      readonly text: string;
      readonly by: string | null;
    }
  | { readonly kind: 'act'; readonly id: string; readonly atMs: number; readonly act: Act }
  | {
      readonly kind: 'alarm';
      readonly id: string;
      readonly atMs: number;
      readonly alarm: AlarmName;
      readonly severity: Severity;
    };

/** Events from `fromSeq` to `toSeq` never came: the picture has a hole and should be fetched anew. */
export interface MissingEvents {
  readonly fromSeq: number;
  readonly toSeq: number;
}

export interface View {
  /** null: no run is going. */
  readonly info: RunInfo | null;
  readonly lastSeq: number;
  readonly missing: MissingEvents | null;
  readonly condition: Condition | null;
  /** Id of the phase the run is in; null before the first. */
  readonly phase: string | null;
  readonly visits: readonly PhaseVisit[];
  /** Raised and not cleared, worst first. */
  readonly alarms: readonly ActiveAlarm[];
  /** Cleared before anyone had seen them, newest last. */
  readonly unseen: readonly PastAlarm[];
  /** Every alarm that is over, in the order of clearing. */
  readonly pastAlarms: readonly PastAlarm[];
  readonly worstAlarm: AlarmName | null;
  /** The newest cue that no act and no new phase has answered. How long it stays worth showing is the page's to say. */
  readonly cue: ShownCue | null;
  readonly standing: { readonly standing: Standing; readonly why: StandingReason; readonly atMs: number } | null;
  readonly marks: readonly Mark[];
  /** Ids of marks whose place a later note took, or that it struck out. */
  readonly struck: readonly string[];
  readonly link: { readonly up: boolean; readonly why: string | null; readonly atMs: number } | null;
  /** Since when the probe has been out of the bowl; null: in it. */
  readonly probeOutSinceMs: number | null;
  readonly rejected: Readonly<Partial<Record<RejectReason, number>>>;
  readonly ended: { readonly by: 'hand' | 'trace'; readonly atMs: number } | null;
}

export const emptyView: View = {
  info: null,
  lastSeq: 0,
  missing: null,
  condition: null,
  phase: null,
  visits: [],
  alarms: [],
  unseen: [],
  pastAlarms: [],
  worstAlarm: null,
  cue: null,
  standing: null,
  marks: [],
  struck: [],
  link: null,
  probeOutSinceMs: null,
  rejected: {},
  ended: null,
};

/** 0 is the worst. The order of `ALARMS`, spelled out so that a page carries nothing of the record but its types. */
export const URGENCY: Readonly<Record<AlarmName, number>> = {
  'temper-lost': 0,
  scorch: 1,
  overshoot: 2,
  'scorch-ahead': 3,
  'overshoot-ahead': 4,
  undershoot: 5,
  'undershoot-ahead': 6,
  'not-cooled-enough': 7,
  'probe-silent': 8,
  'probe-lifted': 9,
  'below-working': 10,
};

/** The acts that do what a cue asks for. */
const ANSWERS: Readonly<Record<CueName, readonly Act[]>> = {
  'off-heat': ['off-heat', 'on-cold'],
  'off-cold': ['off-cold', 'on-heat'],
  'will-not-reach': ['on-heat', 'on-cold'],
  stir: ['stirred'],
  'strip-test': ['strip-test-good', 'strip-test-bad'],
  'cool-again': ['on-cold', 'seed-added'],
  'stir-down': ['stirred'],
  'warm-gently': ['on-heat'],
  'hold-there': ['on-heat'],
};

export function openView(info: RunInfo): View {
  return { ...emptyView, info, condition: info.condition };
}

/**
 * When a run began, feed clock: with its first phase. What was read before that was kept to look back at; time into the run does not
 * count it.
 */
export function beganAtMs({ startedAtMs }: Pick<RunInfo, 'startedAtMs'>, visits: View['visits']): number {
  return visits[0]?.enteredAtMs ?? startedAtMs;
}

/** The view after one more event. An event already folded changes nothing; one that skips numbers is folded and the hole remembered. */
export function foldEvent(view: View, event: RunEvent): View {
  if (event.seq <= view.lastSeq) return view;
  const expected = view.lastSeq + 1;
  const missing = event.seq === expected ? view.missing : { fromSeq: expected, toSeq: event.seq - 1 };
  return { ...apply(view, event), lastSeq: event.seq, missing };
}

/** Folds in order; a convenience for snapshots and tails. */
export function foldEvents(view: View, events: readonly RunEvent[]): View {
  return events.reduce(foldEvent, view);
}

/** The view with a note added at its moment, in the place of the one it replaces; a note already there, or struck, changes nothing. */
export function foldNote(view: View, note: NoteInfo): View {
  const id = `note-${note.id}`;
  if (view.struck.includes(id) || view.marks.some((mark) => mark.id === id)) return view;
  const left = note.replaces === undefined ? view : strike(view, note.replaces);
  return note.text === '' ? left : marked(left, noteMark(id, note));
}

function noteMark(id: string, { atMs, untilMs, tags, text, by }: NoteInfo): Mark {
  const mark = { kind: 'note', id, atMs, text, by } as const;
  const over = untilMs === undefined ? mark : { ...mark, untilMs };
  return tags === undefined || tags.length === 0 ? over : { ...over, tags };
}

function strike(view: View, id: string): View {
  if (view.struck.includes(id)) return view;
  return { ...view, marks: view.marks.filter((mark) => mark.id !== id), struck: [...view.struck, id] };
}

function apply(view: View, event: RunEvent): View {
  switch (event.kind) {
    case 'run-started':
      return { ...view, condition: event.condition };
    case 'phase-entered':
      return enterPhase(view, event);
    case 'band-reached':
      return reachBand(view, event.atMs);
    case 'alarm-raised':
      return raise(view, event);
    case 'alarm-cleared':
      return clear(view, event);
    case 'alarm-acknowledged':
      return acknowledge(view, event);
    case 'alarm-quietened':
      return changeAlarm(view, event.alarm, (alarm) => ({ ...alarm, quietUntilMs: event.untilMs }));
    case 'cue':
      return { ...view, cue: cueFrom(event) };
    case 'standing':
      return { ...view, standing: { standing: event.standing, why: event.why, atMs: event.atMs } };
    case 'act':
      return noteAct(view, event);
    case 'link':
      if (event.source !== undefined) return view;
      return { ...view, link: { up: event.up, why: event.why ?? null, atMs: event.atMs } };
    case 'probe':
      return { ...view, probeOutSinceMs: event.state === 'out' ? event.sinceMs : null };
    case 'rejected':
      return { ...view, rejected: { ...view.rejected, [event.reason]: event.count } };
    case 'run-ended':
      return end(view, event);
    default:
      // A kind this page does not know yet, or one that shows nowhere: numbered, and otherwise left alone.
      return view;
  }
}

type Of<Kind extends RunEvent['kind']> = Extract<RunEvent, { kind: Kind }>;

function enterPhase(view: View, event: Of<'phase-entered'>): View {
  const left = endVisit(view, event.atMs);
  const visit: PhaseVisit = {
    phase: event.phase,
    enteredAtMs: event.atMs,
    leftAtMs: null,
    by: event.by,
    reachedAtMs: null,
  };
  return { ...left, phase: event.phase, visits: [...left.visits, visit], cue: null };
}

function endVisit(view: View, atMs: number): View {
  return { ...view, visits: changeLast(view.visits, (visit) => ({ ...visit, leftAtMs: atMs })) };
}

function reachBand(view: View, atMs: number): View {
  const visits = changeLast(view.visits, (visit) => ({ ...visit, reachedAtMs: visit.reachedAtMs ?? atMs }));
  return { ...view, visits };
}

function raise(view: View, event: Of<'alarm-raised'>): View {
  const raised: ActiveAlarm = {
    alarm: event.alarm,
    severity: event.severity,
    phase: event.phase,
    raisedAtMs: event.atMs,
    valueC: event.valueC,
    limitC: event.limitC,
    inS: event.inS ?? null,
    peakC: event.peakC ?? null,
    acknowledged: false,
    acknowledgedAtMs: null,
    acknowledgedBy: null,
    quietUntilMs: null,
  };
  const others = view.alarms.filter((alarm) => alarm.alarm !== event.alarm);
  const next: View = {
    ...view,
    alarms: [...others, raised].sort((a, b) => URGENCY[a.alarm] - URGENCY[b.alarm]),
    unseen: view.unseen.filter((alarm) => alarm.alarm !== event.alarm),
    worstAlarm: worse(view.worstAlarm, event.alarm),
  };
  const { alarm, severity } = event;
  return marked(next, { kind: 'alarm', id: `event-${event.seq}`, atMs: event.atMs, alarm, severity });
}

function clear(view: View, event: Of<'alarm-cleared'>): View {
  const was = view.alarms.find((alarm) => alarm.alarm === event.alarm);
  if (was === undefined) return view;
  const past = pastFrom(was, event.atMs, event.lastedMs, event.extremeC);
  return {
    ...view,
    alarms: view.alarms.filter((alarm) => alarm !== was),
    unseen: was.acknowledged ? view.unseen : [...view.unseen, past],
    pastAlarms: [...view.pastAlarms, past],
  };
}

function acknowledge(view: View, event: Of<'alarm-acknowledged'>): View {
  const seen = changeAlarm(view, event.alarm, (alarm) => ({
    ...alarm,
    acknowledged: true,
    acknowledgedAtMs: event.atMs,
    acknowledgedBy: event.by ?? null,
  }));
  return { ...seen, unseen: seen.unseen.filter((alarm) => alarm.alarm !== event.alarm) };
}

/** Alarms that still stood are over with the run, and remembered like the others. */
function end(view: View, { by, atMs }: Of<'run-ended'>): View {
  const stood = view.alarms.map((was): PastAlarm => pastFrom(was, atMs, atMs - was.raisedAtMs, null));
  const pastAlarms = [...view.pastAlarms, ...stood];
  return { ...endVisit(view, atMs), alarms: [], pastAlarms, cue: null, ended: { by, atMs } };
}

function pastFrom(was: ActiveAlarm, clearedAtMs: number, lastedMs: number, extremeC: number | null): PastAlarm {
  const { alarm, severity, phase, raisedAtMs, limitC } = was;
  return { alarm, severity, phase, raisedAtMs, clearedAtMs, limitC, extremeC, lastedMs };
}

function changeAlarm(view: View, name: AlarmName, change: (alarm: ActiveAlarm) => ActiveAlarm): View {
  return { ...view, alarms: view.alarms.map((alarm) => (alarm.alarm === name ? change(alarm) : alarm)) };
}

function cueFrom(event: Of<'cue'>): ShownCue {
  const { cue, phase, atMs } = event;
  return {
    cue,
    phase,
    atMs,
    inS: event.inS ?? null,
    landsC: event.landsC ?? null,
    bathC: event.bathC ?? null,
    why: event.why ?? null,
  };
}

function noteAct(view: View, event: Of<'act'>): View {
  const answered = view.cue !== null && ANSWERS[view.cue.cue].includes(event.act);
  const next = answered ? { ...view, cue: null } : view;
  return marked(next, { kind: 'act', id: `event-${event.seq}`, atMs: event.atMs, act: event.act });
}

/** Kept in order of time; equal times in order of arrival. */
function marked(view: View, mark: Mark): View {
  const at = view.marks.findLastIndex((other) => other.atMs <= mark.atMs) + 1;
  return { ...view, marks: [...view.marks.slice(0, at), mark, ...view.marks.slice(at)] };
}

function worse(a: AlarmName | null, b: AlarmName): AlarmName {
  return a !== null && URGENCY[a] <= URGENCY[b] ? a : b;
}

function changeLast<Item>(items: readonly Item[], change: (item: Item) => Item): readonly Item[] {
  const last = items.at(-1);
  return last === undefined ? items : [...items.slice(0, -1), change(last)];
}
