/**
 * A bowl with no run going: the thermometer is read all the same, so that the page has a live number, the last minute is kept for the
 * run to come, and the choice is awaited. Records nothing and tells nobody.
 */
import { estimateAt, initialState, type State, step } from '../core/engine.ts';
import type { Condition } from '../core/record/command.ts';
import type { Format } from '../core/record/format.ts';
import type { Input, RecordedInput } from '../core/record/input.ts';
import { phaseIndex } from '../core/show/course.ts';
import { lowestLostC } from '../core/show/profile-limits.ts';
import type { NowMessage } from '../core/show/wire.ts';
import type { Probe } from '../core/record/probe.ts';
import type { Profile } from '../core/record/profile.ts';
import { ENGINE_VERSION, type Reading, type RunHeader } from '../core/record/run.ts';
import {
  type CarefulCeiling,
  type CarefulWatch,
  mostCarefulCeiling,
  NOT_OVER,
  watchCeiling,
} from '../core/watch/careful.ts';
import { type Answer, conditionAt, phaseFor, phaseToStart } from '../core/watch/starting.ts';

/** How much of what went in before the start belongs to the run (design: Starting). */
export const KEPT_MS = 60_000;
/** And no more than this, should a thermometer babble: inputs (ours: a minute at a hundred lines a second). */
const KEPT_MAX = 6_000;

/** What a person has said of the chocolate so far. */
export interface Choice {
  readonly profile: Profile | null;
  readonly answer: Answer | null;
  /** Begin with the first reading, warm or not: nobody waits for a simulated bowl. */
  readonly atOnce: boolean;
}

export const NO_CHOICE: Choice = { profile: null, answer: null, atOnce: false };

export class Idle {
  /** Judges what is plausible while no profile is chosen; begins no run. */
  readonly #yardstick: Profile;
  readonly #profiles: () => readonly Profile[];
  #choice: Choice;
  #probe: Probe;
  #kept: RecordedInput[] = [];
  /** How the thermometer writes, as far as it was found out: the run to come begins with it. */
  #format: Format | null = null;
  #state: State;
  #lowestC: number | null = null;
  #careful: CarefulWatch = NOT_OVER;
  #room: { readonly valueC: number; readonly atMs: number } | null = null;

  /** `profiles`: what the chocolate could be while nobody has said, as of now. */
  constructor(yardstick: Profile, profiles: () => readonly Profile[], choice: Choice, probe: Probe) {
    this.#yardstick = yardstick;
    this.#profiles = profiles;
    this.#choice = choice;
    this.#probe = probe;
    this.#state = initialState(this.#headerFor(choice.profile ?? yardstick));
  }

  get state(): State {
    return this.#state;
  }

  get choice(): Choice {
    return this.#choice;
  }

  /** The most careful ceiling, while the chocolate is over it and nobody has said what it is and how it stands. */
  get over(): CarefulCeiling | null {
    return this.#careful.isOver ? this.#ceiling() : null;
  }

  /** What was said of the chocolate, once all of it was, in words: the run is waited for. */
  get waitingFor(): { readonly title: string; readonly condition: Condition } | null {
    const { profile, answer } = this.#choice;
    return profile === null || answer === null || !('condition' in answer)
      ? null
      : { title: profile.title, condition: answer.condition };
  }

  /** What only the start asks after: the choice that waits for its chocolate, and the room. */
  awaited(atMs: number): Pick<NowMessage, 'waitingFor' | 'roomC'> {
    const { waitingFor } = this;
    const roomC = this.roomC(atMs);
    return { ...(waitingFor === null ? {} : { waitingFor }), ...(roomC === null ? {} : { roomC }) };
  }

  /** The room's temperature, °C; null: no probe there has been read for a minute. */
  roomC(atMs: number): number | null {
    return this.#room === null || atMs - this.#room.atMs > KEPT_MS ? null : this.#room.valueC;
  }

  /** How far beyond temper the chocolate is for that profile; null: it may well be in temper, or nobody can tell. */
  beyondTemper(profile: Profile, atMs: number): { readonly tempC: number; readonly lostC: number } | null {
    const [tempC, lostC] = [this.#tempC(atMs), lowestLostC(profile)];
    return tempC === null || lostC === null || tempC < lostC ? null : { tempC, lostC };
  }

  /** The last minute's inputs, oldest first. */
  get kept(): readonly RecordedInput[] {
    return this.#kept;
  }

  /** Gives what was made of it. Commands are no inputs here: what they say stands in the header of the run to come. */
  feed(input: Input): readonly Reading[] {
    if (input.kind === 'command' || input.kind === 'end') return [];
    const readings = this.#step(input);
    if (input.kind === 'tick') return readings;
    this.#keep(input);
    this.#followFormat();
    const tempC = this.#tempC(input.atMs);
    if (tempC !== null) this.#lowestC = Math.min(tempC, this.#lowestC ?? tempC);
    return readings;
  }

  /** Whether it has warmed is asked from here on. */
  choose(choice: Choice): void {
    this.#choice = choice;
    this.#stepAgain();
  }

  learn(probe: Probe): void {
    if (JSON.stringify(probe) === JSON.stringify(this.#probe)) return;
    if (probe.decimalComma !== this.#probe.decimalComma) this.#format = null;
    this.#probe = probe;
    this.#stepAgain();
  }

  /** The phase to begin at by itself, now; null: not chosen, or too early. */
  startingPhase(atMs: number): string | null {
    const { profile, answer, atOnce } = this.#choice;
    const tempC = this.#tempC(atMs);
    if (profile === null || answer === null || tempC === null) return null;
    if (!atOnce) return phaseToStart(profile, answer, { tempC, lowestC: this.#lowestC ?? tempC });
    return 'startAt' in answer ? answer.startAt : phaseFor(profile, answer.condition, tempC).id;
  }

  /** What the run to come depends on; null while no profile is chosen. Where nobody said how it stands, the phase says it. */
  header(startingPhase: string): RunHeader | null {
    const { profile, answer } = this.#choice;
    if (profile === null) return null;
    const phase = profile.phases[phaseIndex(profile, startingPhase)] ?? profile.phases[0]!;
    const condition = answer !== null && 'condition' in answer ? answer.condition : conditionAt(phase);
    return { ...this.#headerFor(profile), condition };
  }

  #ceiling(): CarefulCeiling | null {
    const { profile, answer } = this.#choice;
    if (answer !== null) return null;
    return mostCarefulCeiling(profile === null ? this.#profiles() : [profile]);
  }

  #step(input: Input): readonly Reading[] {
    const { state, readings } = step(this.#state, input);
    this.#state = state;
    const room = readings.findLast(({ role, quality }) => role === 'room' && quality === 'good');
    if (room !== undefined) this.#room = room;
    const ceiling = this.#ceiling();
    if (ceiling === null) return readings;
    for (const { role, quality, estimateC } of readings)
      if (role === 'chocolate' && quality === 'good' && estimateC !== null)
        this.#careful = watchCeiling(this.#careful, estimateC, ceiling);
    return readings;
  }

  #headerFor(profile: Profile): RunHeader {
    const known = { engine: ENGINE_VERSION, profile, condition: null, ...this.#probe };
    return this.#format === null ? known : { ...known, format: this.#format };
  }

  /** Once it is found out how the lines are to be read, those that were held meanwhile are read. */
  #followFormat(): void {
    const { format } = this.#state.recognition;
    if (format === this.#format) return;
    const wereHeld = this.#format === null;
    this.#format = format;
    if (wereHeld) this.#stepAgain();
  }

  #tempC(atMs: number): number | null {
    return estimateAt(this.#state, atMs)?.tempC ?? null;
  }

  #keep(input: RecordedInput): void {
    this.#kept.push(input);
    const first = this.#kept.findIndex((kept) => kept.atMs >= input.atMs - KEPT_MS);
    this.#kept.splice(0, Math.max(first, this.#kept.length - KEPT_MAX));
  }

  /** Another profile, another correction, or a format found: the kept minute is judged again under it. */
  #stepAgain(): void {
    this.#stepKept();
    const { format } = this.#state.recognition;
    if (this.#format === null && format !== null) {
      this.#format = format;
      this.#stepKept();
    }
    const newest = this.#kept.at(-1);
    this.#lowestC = newest === undefined ? null : this.#tempC(newest.atMs);
  }

  #stepKept(): void {
    this.#state = initialState(this.#headerFor(this.#choice.profile ?? this.#yardstick));
    this.#careful = NOT_OVER;
    for (const input of this.#kept) this.#step(input);
  }
}
