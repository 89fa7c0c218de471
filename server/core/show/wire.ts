/**
 * What the server and a page say to each other over the socket: one message union, one protocol version.
 * Everything names its bowl and run. Decoding is checked: a page may meet a newer or a broken server.
 */
import type { Estimate, FanBead, Mixing } from '../bowl/estimate.ts';
import type { Condition } from '../record/command.ts';
import type { RunEvent, Standing } from '../record/event.ts';
import type { Profile } from '../record/profile.ts';
import type { Quality } from '../record/run.ts';

export const PROTOCOL_VERSION = 1;

/** A reading on the wire: [atMs, corrected °C, quality code, estimate °C or null]. Only the chocolate's channel. */
export type WireReading = readonly [atMs: number, valueC: number, quality: 0 | 1 | 2, estimateC: number | null];
export const QUALITY_CODE: Readonly<Record<Quality, 0 | 1 | 2>> = { good: 0, suspect: 1, rejected: 2 };

/** Column of a curve: from a span of time its first, lowest, highest and last good value, °C; null where nothing good was read. */
export type Tile = readonly [atMs: number, lowC: number | null, highC: number | null, estimateC: number | null];

/** The run as the page knows it from the start. */
export interface RunInfo {
  readonly run: string;
  readonly profile: Profile;
  readonly condition: Condition | null;
  readonly simulated: boolean;
  /** Feed clock at which the run's first input stands; elapsed time counts from here. */
  readonly startedAtMs: number;
  /** Wall clock at that moment, ISO 8601; a label only. */
  readonly startedAtWall: string;
  readonly probeLagS: number | null;
  readonly resumed: boolean;
}

export interface NoteInfo {
  readonly id: string;
  /** Feed clock of the moment the note is about. */
  readonly atMs: number;
  /** Where it is about a span: the moment that ends it. Absent: about one moment. */
  readonly untilMs?: number;
  readonly tags?: readonly string[];
  /** Empty only in one that strikes out another. */
  readonly text: string;
  readonly by: string | null;
  readonly writtenAtWall: string;
  /** Id of the mark whose place it takes: of an older note, or of an act. Nothing is rewritten; the older one stays on record. */
  readonly replaces?: string;
}

/** How the thermometer stands. */
export type LinkState =
  /** `asks`: what an open port is asked for, null: nothing. Absent: none is open that could be asked. */
  | { readonly state: 'looking'; readonly why: string; readonly asks?: string | null }
  | {
      readonly state: 'up';
      readonly label: string;
      /** The speed that was found, baud, and the newest line heard; of one that is asked, its newest answer. Absent: named, or nothing heard yet. */
      readonly baud?: number;
      readonly sample?: string;
      /** Open, and something is wrong all the same. Absent: nothing is. */
      readonly why?: string;
      readonly asks?: string | null;
    }
  | { readonly state: 'down'; readonly why: string; readonly retryInMs: number | null }
  | { readonly state: 'simulated' };

/** How far off a reading may be after the thermometer was checked: expanded uncertainties (k = 2), °C, at the present reading. */
export interface CheckInfo {
  readonly checkedAtWall: string;
  /** So long ago that it is to be checked again. */
  readonly isOld: boolean;
  /** The same for all readings of an evening. */
  readonly biasC: number;
  /** Of one reading by itself. */
  readonly noiseC: number;
  /** Of one reading, both together. */
  readonly withinC: number;
}

/** The newest value, never without its age and quality. */
export interface NowMessage {
  readonly kind: 'now';
  readonly bowl: string;
  readonly run: string | null;
  readonly atMs: number;
  readonly reading: { readonly valueC: number; readonly atMs: number; readonly quality: Quality } | null;
  /** No good reading for longer than usual: the number must not look live. */
  readonly stale: boolean;
  /** The probe seems to be out of the bowl, or its tip was warmed, since then. */
  readonly probeOutSinceMs: number | null;
  readonly estimate: Estimate | null;
  /** Where the present heat carries it; empty: not known. */
  readonly fan: readonly FanBead[];
  /** Where it coasts to if heat or cold is left now; empty: that is no different, or not known. */
  readonly fanIfLeft: readonly FanBead[];
  /** Whether the reading stands for the bowl; null: nothing to tell by. */
  readonly mixing: Mixing | null;
  readonly standing: Standing | null;
  /** No run is going, nobody has said what the chocolate is, and it is over the lowest ceiling that it could have: this one. */
  readonly careful: { readonly limitC: number; readonly coating: Profile['coating'] } | null;
  /** Somebody said what is in the bowl and how it stands, and the run begins by itself once it warms. Absent: nothing is waited for. */
  readonly waitingFor?: { readonly title: string; readonly condition: Condition };
  /** What a probe in the room read within the last minute, °C, while no run is going. Absent: there is none. */
  readonly roomC?: number;
  /** What a check of the thermometer says of its readings. Absent: it is unchecked. */
  readonly check?: CheckInfo;
  /** Why the host's bell command cannot ring, in a sentence. Absent: it can, or none was named. */
  readonly bellTrouble?: string;
  /** Seconds left of the dwell in this phase; null outside it. */
  readonly dwellLeftS: number | null;
  readonly link: LinkState;
  /** Lines and values not used so far, by reason. */
  readonly rejected: Readonly<Record<string, number>>;
  /** The newest line as it came, for "what it says"; null before the first. */
  readonly lastLine: string | null;
  /** Set while the disk does not take what is read: unrecorded since then. */
  readonly unrecordedSinceMs: number | null;
  /** With it: the cause in its first sentence, and what to do in the second. */
  readonly unrecordedWhy?: string;
  /** How many pages are looking on. */
  readonly screens: number;
  /** Nobody has been near for long, and the bowl rests: alarms stay on the page and nothing sounds. Absent: no. */
  readonly isLeftAlone?: boolean;
}

export interface BowlLabel {
  readonly bowl: string;
  readonly name: string | null;
}

export type ServerMessage =
  | {
      readonly kind: 'welcome';
      readonly protocol: number;
      /** New at each start of the server: sequence numbers of another epoch mean nothing. */
      readonly epoch: string;
      readonly bowl: string;
      readonly atMs: number;
      readonly simulated: boolean;
      /** This screen may look on, and do nothing. Absent: it may take part. */
      readonly watchesOnly?: true;
    }
  /** What stands on the bench, in order; after the welcome, and whenever it changes. `name`: in the person's words. */
  | { readonly kind: 'bowls'; readonly bowls: readonly BowlLabel[] }
  /** The answer to a resume: nothing was missed, what was missed follows as `tail`, or all of it as `snapshot`. */
  | { readonly kind: 'nothing-missed'; readonly bowl: string; readonly run: string | null }
  | {
      readonly kind: 'tail';
      readonly bowl: string;
      readonly run: string;
      readonly events: readonly RunEvent[];
      readonly readings: readonly WireReading[];
      readonly readingCount: number;
      readonly recordedTo: number;
    }
  | {
      readonly kind: 'snapshot';
      readonly bowl: string;
      /** null: no run is going; the page shows the start. */
      readonly info: RunInfo | null;
      /** Every event so far; sparse. */
      readonly events: readonly RunEvent[];
      /** The curve so far as columns, oldest first. */
      readonly tiles: readonly Tile[];
      readonly notes: readonly NoteInfo[];
      /** Number of chocolate readings the tiles stand for; later `readings` continue from it. */
      readonly readingCount: number;
      readonly recordedTo: number;
    }
  /** New events and readings. `readingCount`: chocolate readings of this run including these. `recordedTo`: last `seq` on disk. */
  | {
      readonly kind: 'news';
      readonly bowl: string;
      readonly run: string;
      readonly events: readonly RunEvent[];
      readonly readings: readonly WireReading[];
      readonly readingCount: number;
      readonly recordedTo: number;
    }
  | NowMessage
  | { readonly kind: 'note'; readonly bowl: string; readonly run: string; readonly note: NoteInfo }
  /** Something is kept otherwise now of a run on record, its card or where it lies: who shows it asks for it anew. */
  | { readonly kind: 'run-changed'; readonly bowl: string; readonly run: string }
  | { readonly kind: 'heartbeat'; readonly atMs: number }
  | { readonly kind: 'refused'; readonly reason: RefusalReason };

export type RefusalReason = 'no-such-bowl' | 'too-many-screens' | 'protocol' | 'shutting-down' | 'shut-out';

/** All a page ever sends on the socket: proof that it is there, and whether it can be heard. Everything else is a POST. */
export interface AliveMessage {
  readonly kind: 'alive';
  /** An alarm would be heard from this page: sound is on, and somebody there has said so. Absent: as it said before, at first no. */
  readonly audible?: boolean;
}

/** What a page says when it connects, as the socket's query: where it left off, or nothing. */
export interface ResumePoint {
  readonly epoch: string;
  readonly run: string;
  readonly seq: number;
  readonly readingCount: number;
}
