/**
 * The engine: a pure function from what went in to what came out. Knows no clock, no disk, no screen, and no coating by name.
 *
 *   input ─► settle deadlines ─► take it:  line ─► channels ─► °C ─► roles ─► correction ─► belief ─► judge ─► events
 *                                          command, link, end ───────────────────────────────► events
 */
import { copyBelief, expectChange, isSettled, outSinceMs, takeBath, takeReading } from './bowl/belief.ts';
import type { Belief } from './bowl/belief.ts';
import { bowlOf } from './bowl/stretch.ts';
import type { LineReading } from './reading/channel.ts';
import { type Recognition, recognise, recognitionOf } from './reading/recognition.ts';
import { channelsByRole, type GivenByRole } from './reading/roles.ts';
import { sensed } from './reading/sensed.ts';
import { sentinelReason } from './reading/sentinel.ts';
import type { Role } from './record/command.ts';
import type { EventBody, RejectReason, RunEvent } from './record/event.ts';
import type { Input, RecordedInput, ValuesC } from './record/input.ts';
import { correctedOf } from './record/probe.ts';
import type { Profile } from './record/profile.ts';
import type { Companion, Reading, RunHeader } from './record/run.ts';
import { expectationsOf, hundredth } from './state.ts';
import type { State } from './state.ts';
import { isRaised } from './watch/alarms.ts';
import { LIFT_TOLD_MS } from './watch/bounds.ts';
import { changesTheBowl, obey } from './watch/obey.ts';
import { nextDeadline } from './watch/deadlines.ts';
import { endProbeAlarm, judge } from './watch/judge.ts';
import { forgetLowest } from './watch/phases.ts';
import { copyWatch } from './watch/watch.ts';
import type { Turn, Watch } from './watch/watch.ts';

export { initialState } from './state.ts';
export type { State } from './state.ts';
export { learnedOf } from './learned.ts';
export { estimateAt, fanAt, fanIfLeftAt, situationAt } from './situation.ts';

export interface Output {
  readonly state: State;
  readonly events: readonly RunEvent[];
  /** What was made of the temperatures in this input. */
  readonly readings: readonly Reading[];
}

/** Longest sample of a line, characters: of a rejected one in an event, and of the newest. */
export const SAMPLE_LENGTH = 80;

/** Never throws, whatever the input; leaves `state` untouched. An input older than the one before, or of no moment at all, counts as of that one's. */
export function step(state: State, input: Input): Output {
  if (state.ended) return { state, events: [], readings: [] };
  const work = new Work(state);
  const atMs = Number.isFinite(input.atMs) ? input.atMs : state.atMs;
  work.settle(state.startedAtMs === null ? atMs : Math.max(state.atMs, atMs));
  if (input.kind !== 'tick') work.take(input);
  return work.output(input.kind !== 'tick');
}

/** Whether it only stands beside the bowl: a companion can be given the chocolate itself in the middle of a run. */
function isBeside(companion: Companion | null): boolean {
  return companion !== null && !Object.values(companion.roles).includes('chocolate');
}

function isGiven(valueC: number | null | undefined): valueC is number {
  return valueC !== null && valueC !== undefined;
}

const NO_EVENTS: readonly RunEvent[] = [];
const NO_READINGS: readonly Reading[] = [];

/** One step in the making. Lives no longer than the step; what it hands out is new. */
class Work implements Turn {
  atMs: number;
  header: RunHeader;
  ended = false;
  private readonly before: State;
  private readonly belief: Belief;
  /** Copied when somebody may change it: most readings before a run, and most ticks, change nothing of it. */
  private ownWatch: Watch | null = null;
  private startedAtMs: number | null;
  private rejected: Readonly<Record<string, number>>;
  private lastLine: string | null;
  private recognition: Recognition;
  private beside: State['beside'];
  private events: readonly RunEvent[] = NO_EVENTS;
  private readings: readonly Reading[] = NO_READINGS;

  constructor(state: State) {
    this.before = state;
    this.atMs = state.atMs;
    this.header = state.header;
    this.belief = copyBelief(state.belief);
    this.startedAtMs = state.startedAtMs;
    this.rejected = state.rejected;
    this.lastLine = state.lastLine;
    this.recognition = state.recognition;
    this.beside = state.beside;
  }

  get watch(): Watch {
    return (this.ownWatch ??= copyWatch(this.before.watch));
  }

  /** The same, to be looked at alone. */
  private get watchSeen(): Readonly<Watch> {
    return this.ownWatch ?? this.before.watch;
  }

  get profile(): Profile {
    return this.header.profile;
  }

  get tempC(): number | null {
    return this.belief.filter === null ? null : hundredth(this.belief.filter.tempC);
  }

  say(body: EventBody): void {
    this.events = [...this.events, { seq: this.before.seq + this.events.length + 1, atMs: this.atMs, ...body }];
  }

  /** Everything that came true by itself up to and including `atMs`, in order, stamped with its own moment. */
  settle(atMs: number): void {
    for (;;) {
      const next = nextDeadline(this.watchSeen, this.belief, this.startedAtMs ?? atMs, atMs);
      if (next === null) break;
      this.atMs = Math.max(this.atMs, next.atMs);
      next.meet(this);
    }
    this.atMs = atMs;
  }

  take(input: RecordedInput): void {
    this.startedAtMs ??= this.atMs;
    switch (input.kind) {
      case 'line':
        return this.takeLine(input.text, input.source);
      case 'reading':
        return this.takeValues(input.valuesC, this.companion(input.source));
      case 'link':
        return this.takeLink(input.up, input.why, input.source);
      case 'command':
        if (changesTheBowl(input.command)) expectChange(this.belief);
        return obey(this, input.command);
      case 'end':
        this.say({ kind: 'run-ended', by: 'trace' });
        this.ended = true;
    }
  }

  /** What is known of a thermometer beside the one in the chocolate; null: the input is of that one itself. */
  private companion(source: string): Companion | null {
    const { companions } = this.header;
    return companions !== undefined && Object.hasOwn(companions, source) ? companions[source]! : null;
  }

  private takeLine(text: string, source: string): void {
    const companion = this.companion(source);
    const known = companion ?? this.header;
    const sample = text.slice(0, SAMPLE_LENGTH);
    if (!isBeside(companion)) this.lastLine = sample;
    const reading = sensed(this.recognised(text, source, companion), known.sensors);
    if (reading.ok) this.takeChannels(channelsByRole(reading.channels, known.roles, reading.places), companion);
    else this.count(reading.reason, sample);
  }

  /** How each thermometer writes is found out by itself. */
  private recognised(text: string, source: string, companion: Companion | null): LineReading {
    if (companion === null) {
      const { recognition, reading } = recognise(this.recognition, text, this.atMs, this.header);
      this.recognition = recognition;
      return reading;
    }
    const before = this.beside[source] ?? recognitionOf(null);
    const { recognition, reading } = recognise(before, text, this.atMs, companion);
    if (recognition !== before) this.beside = { ...this.beside, [source]: recognition };
    return reading;
  }

  /** The chocolate comes last: it is judged by what the bath is. */
  private takeValues({ bath, room, chocolate }: ValuesC, companion: Companion | null): void {
    if (isGiven(bath)) this.takeValue('bath', null, bath, companion);
    if (isGiven(room)) this.takeValue('room', null, room, companion);
    if (isGiven(chocolate)) this.takeValue('chocolate', null, chocolate, companion);
  }

  private takeChannels({ bath, room, chocolate }: GivenByRole, companion: Companion | null): void {
    if (bath !== undefined) this.takeValue('bath', bath.key, bath.valueC, companion);
    if (room !== undefined) this.takeValue('room', room.key, room.valueC, companion);
    if (chocolate !== undefined) this.takeValue('chocolate', chocolate.key, chocolate.valueC, companion);
  }

  /** `key` null: it came as a temperature, of no channel. */
  private takeValue(role: Role, key: string | null, raw: number, companion: Companion | null): void {
    const isMeant = role === 'chocolate' || companion !== null;
    const { gain, offsetC } = correctedOf(companion ?? this.header, key, isMeant).correction;
    const reason = sentinelReason(raw);
    const valueC = hundredth(gain * raw + offsetC);
    if (reason !== null) return this.refuse(role, valueC, reason);
    if (role === 'chocolate') return this.takeChocolate(valueC);
    const [lowC, highC] = this.before.expectations.plausibleC;
    if (!(valueC >= lowC && valueC <= highC)) return this.refuse(role, valueC, 'implausible');
    if (role === 'bath') takeBath(this.belief, this.atMs, valueC);
    this.read({ atMs: this.atMs, role, valueC, quality: 'good', estimateC: null });
  }

  private takeChocolate(valueC: number): void {
    const verdict = takeReading(this.belief, this.atMs, valueC, this.before.expectations);
    if (verdict?.quality === 'rejected') return this.refuse('chocolate', valueC, verdict.reason);
    if (verdict !== null) this.count(verdict.reason, String(valueC));
    const { atMs, tempC: estimateC } = this;
    this.read(
      verdict === null
        ? { atMs, role: 'chocolate', valueC, quality: 'good', estimateC }
        : { atMs, role: 'chocolate', valueC, quality: verdict.quality, reason: verdict.reason, estimateC },
    );
    this.tellProbe();
    const { alarms, phase } = this.watchSeen;
    if (this.belief.stuckSinceMs === null && isRaised(alarms, 'probe-silent')) endProbeAlarm(this, 'probe-silent');
    if (this.belief.doubt === null && isRaised(alarms, 'probe-lifted')) endProbeAlarm(this, 'probe-lifted');
    const { filter, stretch, liveliness } = this.belief;
    if (phase !== null && filter !== null && isSettled(this.belief)) {
      const bowl = bowlOf(stretch!, filter, liveliness!.mixing);
      judge(this, bowl, hundredth(bowl.tempC), this.startedAtMs!);
    }
  }

  /** A probe out of the bowl is told once it is more than a twitch, and told again when it is back. */
  private tellProbe(): void {
    const sinceMs = outSinceMs(this.belief);
    const out = sinceMs !== null && this.atMs - sinceMs >= LIFT_TOLD_MS;
    const { outTold } = this.watchSeen;
    if (out && !outTold) {
      this.watch.outTold = true;
      this.say({ kind: 'probe', state: 'out', sinceMs });
    } else if (outTold && this.belief.doubt === null) {
      this.watch.outTold = false;
      forgetLowest(this.watch);
      this.say({ kind: 'probe', state: 'in', sinceMs: this.atMs });
    }
  }

  /** The chocolate's thermometer may begin with power-on values whenever it comes; one beside it changes nothing of that. */
  private takeLink(up: boolean, why: string | undefined, source: string): void {
    const isOther = isBeside(this.companion(source));
    if (up && !isOther) this.belief.fresh = true;
    this.say({ kind: 'link', up, ...(why === undefined ? {} : { why }), ...(isOther ? { source } : {}) });
  }

  /** Most inputs give one: an array that grows would have room for seventeen. */
  private read(reading: Reading): void {
    this.readings = this.readings.length === 0 ? [reading] : [...this.readings, reading];
  }

  private refuse(role: Role, valueC: number, reason: RejectReason): void {
    this.count(reason, String(valueC));
    this.read({ atMs: this.atMs, role, valueC, quality: 'rejected', reason, estimateC: null });
  }

  /** Told at the 1st, 10th, 100th… of each reason. */
  private count(reason: RejectReason, sample: string): void {
    const count = (this.rejected[reason] ?? 0) + 1;
    this.rejected = { ...this.rejected, [reason]: count };
    if (Number.isInteger(Math.log10(count))) this.say({ kind: 'rejected', reason, count, sample });
  }

  /** Nothing was said that changes what may be expected. */
  private isAsExpected(): boolean {
    const { profile, probeLagS } = this.before.header;
    return this.header.profile === profile && this.header.probeLagS === probeLagS;
  }

  output(recorded: boolean): Output {
    const { before, events, readings } = this;
    if (!recorded && events.length === 0) return { state: before, events, readings };
    const state: State = {
      version: before.version,
      header: this.header,
      expectations: this.isAsExpected() ? before.expectations : expectationsOf(this.header),
      belief: this.belief,
      watch: this.watchSeen,
      seq: before.seq + events.length,
      startedAtMs: this.startedAtMs,
      atMs: recorded ? this.atMs : before.atMs,
      rejected: this.rejected,
      lastLine: this.lastLine,
      recognition: this.recognition,
      beside: this.beside,
      ended: this.ended,
    };
    return { state, events, readings };
  }
}
