/**
 * The probes of one bowl: what their thermometers have said of late, what is known of each, and the check of one of them. Steps no engine;
 * it only looks at how the engine reads their lines.
 */
import { WORK_C } from '../core/check/correction.ts';
import type { CheckAsked, CheckStands, ProbeInUse, ProbeKnown } from '../core/check/told.ts';
import { SAMPLE_LENGTH, type State } from '../core/engine.ts';
import type { Heard } from '../core/reading/explained.ts';
import { type Recognition, recognitionOf } from '../core/reading/recognition.ts';
import type { RecordedInput } from '../core/record/input.ts';
import { correctedOf } from '../core/record/probe.ts';
import type { Companion, Corrected, Reading } from '../core/record/run.ts';
import { NO_THERMOMETER, type Refused, unfit } from './answer.ts';
import { Checking } from './checking.ts';
import { HeardLines } from './heard.ts';
import { chocolateCorrected, numbersKnown, type ProbeSource, probesInUse } from './probe-known.ts';
import type { BowlThermometers } from './thermometers.ts';

/** How the engine reads lines by now. */
type Engine = Pick<State, 'recognition' | 'beside' | 'header'>;

const NOT_HERE = 'No such probe is in this bowl, its bath or its room.';
const IN_A_RUN = 'A run is going, and the probe belongs in the bowl. Check it after the run.';
const IN_ANOTHER_RUN = 'A run in another bowl is going with this probe. Check it after that run.';

export class BowlProbes {
  readonly #thermometers: BowlThermometers;
  #heard = new Map<string, HeardLines>();
  #checking = new Checking();

  constructor(thermometers: BowlThermometers) {
    this.#thermometers = thermometers;
  }

  /** Another thermometer is in the chocolate, or none. */
  begin(): void {
    this.#heard = new Map();
    this.#checking = new Checking();
  }

  hear({ source, atMs, text }: Extract<RecordedInput, { kind: 'line' }>): void {
    const heard = this.#heard.get(source) ?? new HeardLines();
    this.#heard.set(source, heard);
    heard.add(atMs, text);
  }

  /** What the one in the chocolate said last; null: nothing since it is there. */
  get lastLine(): string | null {
    return this.#heard.get(this.#thermometers.main.id)?.texts[0]?.slice(0, SAMPLE_LENGTH) ?? null;
  }

  /** What the engine made of an input of this thermometer: the probe that is being checked is watched. */
  watch(source: string, atMs: number, readings: readonly Reading[]): void {
    const watched = this.#checking.watched(atMs);
    if (watched === null || watched.source !== source) return;
    const isMain = source === this.#thermometers.main.id;
    const known = this.#thermometers.each().find(({ id }) => id === source)!.known;
    const { correction } = correctedOf(known, watched.channel, !isMain || watched.role === 'chocolate');
    this.#checking.take(readings, correction);
  }

  check(asked: CheckAsked, { atMs, wallMs, engine, isGoing }: Moment): CheckStands | Refused {
    if (isGoing) return unfit(IN_A_RUN);
    const wanted = asked.probe;
    const probes = this.#inUse(engine, wallMs);
    const probe =
      wanted === undefined
        ? probes.find(({ role }) => role === 'chocolate')
        : probes.find(({ source, channel }) => source === wanted.source && channel === wanted.channel);
    if (probe === undefined) return unfit(NOT_HERE);
    if (!this.#thermometers.isRead(probe.source)) return unfit(NO_THERMOMETER);
    if (this.#thermometers.isInAnyRun(probe)) return unfit(IN_ANOTHER_RUN);
    return this.#checking.ask(asked, probe, atMs, wallMs);
  }

  /** A probe is being checked: nothing begins by itself. */
  isChecking(atMs: number): boolean {
    return this.#checking.isGoing(atMs);
  }

  /** The one in the chocolate is: what it reads is none. */
  isChocolateChecked(atMs: number): boolean {
    return this.#checking.watched(atMs)?.role === 'chocolate';
  }

  /** True once after each check. */
  isCheckLeft(atMs: number): boolean {
    return this.#checking.isLeft(atMs);
  }

  leaveCheck(): void {
    this.#checking.leave();
  }

  known(engine: Engine, wallMs: number): ProbeKnown {
    const main = this.#sources(engine)[0]!;
    return {
      lag: this.#thermometers.lag,
      probes: this.#inUse(engine, wallMs),
      atC: WORK_C,
      lastLine: main.lines[0] ?? null,
      numbers: numbersKnown(main),
    };
  }

  /** How the chocolate's readings are corrected. */
  chocolate(engine: Engine): Corrected {
    return chocolateCorrected(this.#sources(engine)[0]!);
  }

  /** The newest lines of the thermometer in the chocolate, and what is understood of them. */
  heard(engine: Engine, atMs: number): Heard {
    const { id } = this.#thermometers.main;
    const lines = this.#heard.get(id) ?? new HeardLines();
    return lines.told(atMs, howRead(engine, id), companionIn(engine, id) ?? engine.header);
  }

  #inUse(engine: Engine, wallMs: number): readonly ProbeInUse[] {
    return this.#sources(engine).flatMap((each) => probesInUse(each, wallMs));
  }

  #sources(engine: Engine): readonly ProbeSource[] {
    return this.#thermometers.each().map(({ id, known }) => ({
      source: id,
      isMain: id === this.#thermometers.main.id,
      known,
      recognition: howRead(engine, id),
      lines: this.#heard.get(id)?.texts ?? [],
    }));
  }
}

interface Moment {
  readonly atMs: number;
  readonly wallMs: number;
  readonly engine: Engine;
  /** A run is, in this bowl. */
  readonly isGoing: boolean;
}

function companionIn({ header: { companions = {} } }: Engine, source: string): Companion | null {
  return Object.hasOwn(companions, source) ? companions[source]! : null;
}

/** The thermometer that a run began with is read by the run's own recognition, each other by one of its own. */
function howRead(engine: Engine, source: string): Recognition {
  if (companionIn(engine, source) === null) return engine.recognition;
  return engine.beside[source] ?? recognitionOf(null);
}
