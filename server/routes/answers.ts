/**
 * What answers look like: a shape for each, one key for each key of what the rest of the server gives, so that one that is added there and
 * forgotten here does not compile.
 */
import { cardEntryShape, VERDICTS } from '../core/record/card.ts';
import { ALARMS } from '../core/record/event.ts';
import { eventShape, standingShape } from '../core/record/event-file.ts';
import { conditionShape } from '../core/record/input-file.ts';
import { profileShape } from '../core/record/profile-shape.ts';
import {
  type Fields,
  finite,
  flag,
  list,
  object,
  oneOf,
  optional,
  orNull,
  type Shape,
  text,
  tuple,
  union,
  wallTime,
  whole,
  wholeFrom,
} from '../core/record/shape.ts';
import type { Judgement } from '../core/record/judgement.ts';
import { runHeaderShape } from '../core/record/trace.ts';
import type { LinkState, NoteInfo, RunInfo } from '../core/show/wire.ts';
import type { Failed, Going } from '../judging/judging.ts';
import type { Judged } from '../judging/messages.ts';
import type { UsedLag } from '../core/check/told.ts';
import type { BowlStatus } from '../session/status.ts';
import type { PortIdentity } from '../source/ports.ts';
import type { PortChoice } from '../bench/thermometer.ts';
import type { RunSummary, Visit } from '../core/show/listed.ts';
import type { LostSpan, RunChoices, RunPage, StoreHealth, StoredRun } from '../store/records.ts';

const alarm = oneOf(ALARMS);
const quality: Shape = { ...whole, schema: { enum: [0, 1, 2] } };

/** A column of a curve, and a reading, as `wire.ts` has them. */
export const tileShape = tuple(whole, orNull(finite), orNull(finite), orNull(finite));
export const wireReadingShape = tuple(whole, finite, quality, orNull(finite));

const NOTE: Fields<NoteInfo> = {
  id: text,
  atMs: whole,
  untilMs: optional(whole),
  tags: optional(list(text)),
  text,
  by: orNull(text),
  writtenAtWall: wallTime,
  replaces: optional(text),
};
export const noteInfoShape = object(NOTE);

const RUN_INFO: Fields<RunInfo> = {
  run: text,
  profile: profileShape,
  condition: orNull(conditionShape),
  simulated: flag,
  startedAtMs: whole,
  startedAtWall: text,
  probeLagS: orNull(finite),
  resumed: flag,
};
const runInfoShape = object(RUN_INFO);

type LinkIn<S extends LinkState['state']> = Omit<Extract<LinkState, { state: S }>, 'state'>;

function link<S extends LinkState['state']>(state: S, fields: Fields<LinkIn<S>>): Shape {
  return object({ state: oneOf([state]), ...fields });
}

const asks = optional(orNull(text));
export const linkShape = union('state', {
  looking: link('looking', { why: text, asks }),
  up: link('up', { label: text, baud: optional(whole), sample: optional(text), why: optional(text), asks }),
  down: link('down', { why: text, retryInMs: orNull(finite) }),
  simulated: link('simulated', {}),
});

const USED_LAG: Fields<UsedLag> = {
  lagS: finite,
  from: oneOf(['flag', 'measured', 'said']),
  measuredAtWall: orNull(text),
};

export const usedLagShape = object(USED_LAG);

const CHOSEN: Fields<BowlStatus['chosen']> = {
  profile: orNull(text),
  condition: orNull(conditionShape),
  startAt: orNull(text),
};

const STATUS: Fields<BowlStatus> = {
  bowl: text,
  state: oneOf(['waiting', 'going']),
  simulated: flag,
  link: linkShape,
  probeLag: orNull(usedLagShape),
  chosen: object(CHOSEN),
  info: orNull(runInfoShape),
};
export const statusShape = object(STATUS);

type Trouble = Extract<StoreHealth, { recording: false }>;
const TROUBLE: Fields<Omit<Trouble, 'recording'>> = { sinceWallMs: whole, reason: text, waiting: wholeFrom(0) };

/** A flag that tells two kinds apart: the alternative to `union`, which goes by words. */
const storeHealthSchema = {
  oneOf: [object({ recording: flagOf(true) }).schema, object({ recording: flagOf(false), ...TROUBLE }).schema],
};

function flagOf(value: boolean): Shape {
  return { ...flag, schema: { const: value } };
}

export const healthShape = object({
  ok: flag,
  store: optional({ ...flag, schema: storeHealthSchema }),
  bowls: optional(list(statusShape)),
});

const IDENTITY: Fields<PortIdentity> = {
  vendorId: text,
  productId: text,
  serialNumber: orNull(text),
  position: orNull(text),
  path: text,
};
const PORT: Fields<PortChoice> = { path: text, identity: orNull(object(IDENTITY)), label: text };
export const portShape = object(PORT);

const VISIT: Fields<Visit> = { phase: text, atMs: whole };

const SUMMARY: Fields<RunSummary> = {
  run: text,
  bowl: text,
  bowlName: orNull(text),
  title: text,
  coating: text,
  profile: text,
  simulated: flag,
  startedAtWall: text,
  beganAtWall: text,
  durationMs: whole,
  endedAtMs: orNull(whole),
  standing: orNull(standingShape),
  worstAlarm: orNull(alarm),
  worstOverC: orNull(finite),
  visits: list(object(VISIT)),
  startedAtMs: whole,
  name: orNull(text),
  centre: orNull(text),
  lot: orNull(text),
  kg: orNull(finite),
  tags: list(text),
  verdict: orNull(oneOf(VERDICTS)),
  binnedAtWall: orNull(text),
  importedAtWall: orNull(text),
  tiles: list(tileShape),
};
export const summaryShape = object(SUMMARY);

const PAGE: Fields<RunPage> = { total: wholeFrom(0), runs: list(summaryShape) };
export const runPageShape = object(PAGE);

const CHOICES: Fields<RunChoices> = {
  coatings: list(text),
  profiles: list(object({ id: text, title: text })),
  tags: list(text),
};
export const choicesShape = object(CHOICES);

const LOST: Fields<LostSpan> = { fromTurn: wholeFrom(1), toTurn: wholeFrom(1), fromMs: whole, toMs: whole };

/** All of a stored run that does not stand in its `info` already. */
type Rest = Omit<StoredRun, 'turns' | Exclude<keyof RunInfo, 'resumed'>>;

const OPENED: Fields<Rest & { readonly info: RunInfo; readonly tiles: unknown }> = {
  info: runInfoShape,
  header: runHeaderShape,
  bowl: text,
  bowlName: optional(orNull(text)),
  source: text,
  endedAtMs: orNull(whole),
  lost: list(object(LOST)),
  events: list(eventShape),
  notes: list(noteInfoShape),
  card: list(cardEntryShape),
  binnedAtWall: orNull(text),
  importedAtWall: orNull(text),
  tiles: list(tileShape),
};
export const openedRunShape = object(OPENED);

const JUDGEMENT: Fields<Judgement> = {
  id: text,
  judgedAtWall: wallTime,
  header: runHeaderShape,
  isOwnProfile: flag,
  inputs: wholeFrom(0),
  events: wholeFrom(0),
  differsFromSeq: orNull(wholeFrom(1)),
  hasLostInputs: flag,
  visits: list(object(VISIT)),
  standing: orNull(standingShape),
  worstAlarm: orNull(alarm),
  worstOverC: orNull(finite),
};
const judgementShape = object(JUDGEMENT);

const GOING: Fields<Going> = { id: text, run: text, profile: text, share: finite };
export const goingShape = object(GOING);

const FAILED: Fields<Failed> = { id: text, reason: text };

export const judgementsShape = object({
  judgements: list(judgementShape),
  going: orNull(goingShape),
  failed: orNull(object(FAILED)),
});

const JUDGED: Fields<Judged> = { judgement: judgementShape, events: list(eventShape), tiles: list(tileShape) };
export const judgedShape = object(JUDGED);

export const curveShape = object({ readings: orNull(list(wireReadingShape)), tiles: list(tileShape) });

/** Shapes that stand in several answers, by the name they have in the description. */
export const NAMED_SHAPES: Readonly<Record<string, Shape>> = {
  Profile: profileShape,
  Event: eventShape,
  Note: noteInfoShape,
  Tile: tileShape,
  Reading: wireReadingShape,
  RunInfo: runInfoShape,
  RunHeader: runHeaderShape,
  RunSummary: summaryShape,
  CardEntry: cardEntryShape,
  Judgement: judgementShape,
  BowlStatus: statusShape,
};
