/**
 * One bowl's live run, and the one place where anything changes: inputs go in, are stepped through the engine, recorded, then told.
 * Knows no sockets, no files and no serial ports; they come to it as inputs, a store and listeners.
 */
import type { CheckAsked, CheckStands, ProbeKnown } from '../core/check/told.ts';
import type { Heard } from '../core/reading/explained.ts';
import { initialState, type State } from '../core/engine.ts';
import type { Command } from '../core/record/command.ts';
import type { Input, RecordedInput } from '../core/record/input.ts';
import { phaseIndex } from '../core/show/course.ts';
import type { Probe } from '../core/record/probe.ts';
import type { Profile } from '../core/record/profile.ts';
import type { RunHeader } from '../core/record/run.ts';
import type { LinkState, NoteInfo, NowMessage, ResumePoint, ServerMessage } from '../core/show/wire.ts';
import type { KnownProbes } from '../known/known-probes.ts';
import { type CommandAnswer, NO_THERMOMETER, noSeedLeft, type Refused, unfit } from './answer.ts';
import { BowlProbes } from './bowl-probes.ts';
import { checkInfo } from './check-info.ts';
import { type Choice, Idle, NO_CHOICE } from './idle.ts';
import { type LearnedOf, RUNS_BACK, together } from './learned.ts';
import { LiveRun, type Tell } from './live-run.ts';
import { momentOf } from './moment.ts';
import { emptySnapshot } from './told.ts';
import { runAgain } from './resuming.ts';
import { type BowlStatus, withNewest } from './status.ts';
import { BowlThermometers, type Named, ONE_PLACE, type Places } from './thermometers.ts';
import { Unrecorded } from './unrecorded.ts';
import type { Clock } from '../source/source.ts';
import type { RunToResume, StoreHealth } from '../store/records.ts';
import type { Store } from '../store/store.ts';

export interface SessionOptions {
  readonly bowl: string;
  /** What it is called where there are several; null, or absent: it is the only one. */
  readonly name?: () => string | null;
  readonly clock: Clock;
  readonly store: Store;
  /** Judges what is plausible while no profile is chosen. */
  readonly yardstick: Profile;
  /** What the chocolate could be while nobody has said, as of now. */
  readonly profiles: () => readonly Profile[];
  readonly probes: KnownProbes;
  /** What the bench says of thermometers in this bowl; absent: there is one, and it is in the chocolate. */
  readonly places?: Places;
  readonly learnedOf: LearnedOf;
  /** Labels and names of new runs: what cannot be repeated comes from outside. */
  readonly wallNowMs: () => number;
  readonly newRunId: () => string;
}

/** The source of what Bowlside itself puts in, and of what a person says. */
const OWN_SOURCE = 'bowlside';
const PERSON = 'person';

/** No clock but that one went on meanwhile. */
const NOT_RUNNING = 'Bowlside was not running. How long is by the wall clock.';

export class Session {
  readonly #options: SessionOptions;
  readonly #listeners: Tell[] = [];
  readonly #unfollow: readonly (() => void)[];
  readonly #thermometers: BowlThermometers;
  #link: LinkState = { state: 'looking', why: 'Looking for a thermometer.' };
  #idle: Idle;
  readonly #probes: BowlProbes;
  /** The run that is going, or the last one that was: a page that lost its socket just before the end still gets the end. */
  #run: LiveRun | null = null;
  readonly #unrecorded = new Unrecorded();

  constructor(options: SessionOptions) {
    this.#options = options;
    this.#thermometers = new BowlThermometers(options.probes, options.places ?? ONE_PLACE);
    this.#probes = new BowlProbes(this.#thermometers);
    this.#idle = this.#newIdle(NO_CHOICE);
    const { clock, store, wallNowMs } = options;
    const noteHealth = (health: StoreHealth): void => this.#unrecorded.note(health, clock.nowMs(), wallNowMs());
    noteHealth(store.health());
    this.#unfollow = [
      store.onHealth(noteHealth),
      store.onCommitted((run, seq, turns) => {
        if (run === this.#run?.run.run) this.#run.committed(seq, turns);
      }),
    ];
  }

  /** The bowl is taken from the bench: it hears nothing any more. Not to be called while a run is going. */
  close(): void {
    for (const unfollow of this.#unfollow) unfollow();
  }

  get bowl(): string {
    return this.#options.bowl;
  }

  /** The one way in for everything that happens; in the order of `atMs`. */
  feed(input: Input): void {
    if (input.kind === 'line') this.#probes.hear(input);
    const run = this.#going();
    if (run === null) {
      // From ice into chocolate no bowl can go: what was read meanwhile is forgotten.
      if (this.#probes.isCheckLeft(input.atMs)) this.endCheck();
      const readings = this.#idle.feed(input);
      if (input.kind !== 'tick') this.#probes.watch(input.source, input.atMs, readings);
      this.#run?.tellOverdue();
      if (input.kind !== 'tick') this.#beginIfWarm(input.atMs);
      return;
    }
    run.feed(input);
    if (run.ended) this.#idle = this.#newIdle(NO_CHOICE);
  }

  /** What a person wants, now. It enters by the same door as readings where a run is going. */
  command(command: Command): CommandAnswer {
    const why = this.#thermometers.refusalOf(command);
    if (why !== null) return unfit(why);
    const answer = this.#going() === null ? this.#commandIdle(command) : this.#commandRun(command);
    if (answer.ok && this.#thermometers.learn(command)) this.#idle.learn(this.#probe);
    return answer;
  }

  /** Seconds, or null to forget it; for the runs to come with this thermometer: that of a run is part of its record. */
  setProbeLag(lagS: number | null): CommandAnswer {
    if (!this.#thermometers.isMeasured) return unfit(NO_THERMOMETER);
    this.#options.probes.setLag(this.#thermometers.main, lagS);
    this.#idle.learn(this.#probe);
    return { ok: true };
  }

  /** How a check of the probe stands; asking keeps it going. Between runs only: in one the probe belongs in the bowl. */
  check(asked: CheckAsked): CheckStands | Refused {
    const { clock, wallNowMs } = this.#options;
    const moment = { atMs: clock.nowMs(), wallMs: wallNowMs(), engine: this.#state };
    return this.#probes.check(asked, { ...moment, isGoing: this.#going() !== null });
  }

  endCheck(): void {
    this.#probes.leaveCheck();
    this.#idle = this.#newIdle(this.#idle.choice);
  }

  /** What is known of the thermometers, and what they say now. */
  probe(): ProbeKnown {
    return this.#probes.known(this.#state, this.#options.wallNowMs());
  }

  /** Runs that are over are of another file now: pages begin with none. Not to be called while a run is going. */
  forget(): void {
    this.#run = null;
    this.#tell(emptySnapshot(this.bowl));
  }

  /** A profile is not as it was: chosen, and not begun, it is the new one. A run that is going keeps what stands in its header. */
  profileChanged(profile: Profile): void {
    const { choice } = this.#idle;
    if (this.#going() === null && choice.profile?.id === profile.id) this.#idle.choose({ ...choice, profile });
  }

  link(state: LinkState): void {
    this.#link = state;
  }

  /** Another thermometer, or another kind of bowl: a simulated run does not go on with real readings, nor the reverse. */
  use(source: Named, choice: Choice): void {
    const run = this.#going();
    if (run !== null && run.run.simulated !== source.simulated) this.#feedOwn({ name: 'end' });
    const isOther = this.#thermometers.main.id !== source.id;
    this.#thermometers.use(source);
    this.#probes.begin();
    this.#idle = this.#newIdle(choice);
    this.#tellRun(isOther);
  }

  /** No thermometer is in the chocolate, and how it stands with one. A run that is going goes on without readings. */
  useNone(link: LinkState): void {
    this.link(link);
    if (!this.#thermometers.isThere) return;
    if (this.#going() !== null) this.#feedLinkDown(this.#options.clock.nowMs(), 'No thermometer is in the bowl.');
    this.#thermometers.use(null);
    this.#probes.begin();
    this.#idle = this.#newIdle(NO_CHOICE);
  }

  /** These give the bowl its bath or its room; and what the bench says of any thermometer here may be other than it was. */
  stand(beside: readonly Named[]): void {
    this.#thermometers.stand(beside);
    this.#idle.learn(this.#probe);
    this.#tellRun();
  }

  /** Goes on with a run the server before this one was recording. False: it cannot be continued, and has been ended where it stopped. */
  resume(found: RunToResume): boolean {
    const { store } = this.#options;
    const again = runAgain(found, store);
    if (again === null) {
      store.endRun(found.run.run, found.lastAtMs);
      return false;
    }
    // Until another one comes, what is said of a thermometer is said of the run's.
    this.#thermometers.use({ id: found.run.source, simulated: found.run.simulated });
    this.#options.probes.recover(this.#thermometers.main, again.probe);
    this.#run = new LiveRun(found.run, { ...again, before: found }, this.#surroundings());
    if (again.linkUp) this.#feedLinkDown(found.lastAtMs, NOT_RUNNING);
    return true;
  }

  /** A note on any run; pages that look at that run are told. */
  annotate(run: string, note: NoteInfo): void {
    if (run === this.#run?.run.run) this.#run.note(note);
    else this.#options.store.annotate(run, note);
  }

  /** What is kept of a run as a whole is not as it was: pages that show it ask anew. */
  runChanged(run: string): void {
    this.#tell({ kind: 'run-changed', bowl: this.bowl, run });
  }

  onTell(listener: Tell): void {
    this.#listeners.push(listener);
  }

  /** All a page needs that comes now, or comes back: told in this order, and followed by every later message, it leaves no gap. */
  catchUp(from: ResumePoint | null): readonly ServerMessage[] {
    const run = this.#run;
    const isTheirs = run !== null && run.run.run === from?.run;
    if (run !== null && (isTheirs || !run.ended)) return run.told.catchUp(from);
    return [emptySnapshot(this.bowl)];
  }

  now(screens: number): NowMessage {
    const atMs = this.#options.clock.nowMs();
    const run = this.#going();
    const { standing, ...moment } = momentOf(this.#state, atMs);
    return {
      kind: 'now',
      bowl: this.bowl,
      run: run?.run.run ?? null,
      atMs,
      ...moment,
      standing: run === null ? null : standing,
      careful: run === null && !this.#probes.isChocolateChecked(atMs) ? this.#idle.over : null,
      ...checkInfo(this.#probes.chocolate(this.#state), moment.reading?.valueC ?? null, this.#options.wallNowMs()),
      ...(run === null ? this.#idle.awaited(atMs) : {}),
      lastLine: this.#probes.lastLine,
      link: withNewest(this.#link, this.#probes.lastLine),
      ...this.#unrecorded.told,
      screens,
    };
  }

  /** The newest lines of the thermometer, and what is understood of them. */
  heard(): Heard {
    return this.#probes.heard(this.#state, this.#options.clock.nowMs());
  }

  status(): BowlStatus {
    const run = this.#going();
    const { profile, answer } = this.#idle.choice;
    return {
      bowl: this.bowl,
      state: run === null ? 'waiting' : 'going',
      simulated: this.#thermometers.main.simulated,
      link: withNewest(this.#link, this.#probes.lastLine),
      probeLag: this.#thermometers.lag,
      chosen: {
        profile: profile?.id ?? null,
        condition: answer !== null && 'condition' in answer ? answer.condition : null,
        startAt: answer !== null && 'startAt' in answer ? answer.startAt : null,
      },
      info: run?.told.info ?? null,
    };
  }

  get #state(): State {
    return this.#going()?.state ?? this.#idle.state;
  }

  get #probe(): Probe {
    return this.#thermometers.probe();
  }

  #going(): LiveRun | null {
    return this.#run === null || this.#run.ended ? null : this.#run;
  }

  #commandIdle(command: Command): CommandAnswer {
    switch (command.name) {
      case 'choose-profile':
        if (command.condition === 'tempered') {
          const beyond = this.#idle.beyondTemper(command.profile, this.#options.clock.nowMs());
          if (beyond !== null) return unfit(noSeedLeft(beyond));
        }
        if (command.condition === 'solid') this.#beginAnew(command.profile);
        this.#idle.choose({ profile: command.profile, answer: { condition: command.condition }, atOnce: false });
        this.#beginIfWarm(this.#options.clock.nowMs());
        return { ok: true };
      case 'start':
        return this.#startByHand(command.phase);
      case 'assign-role':
      case 'choose-reading':
      case 'set-correction':
        return { ok: true };
      default:
        return unfit('No run is going.');
    }
  }

  /** What was read until now was read in the bowl before. */
  #beginAnew(profile: Profile): void {
    if (this.#thermometers.main.beginAnew === undefined) return;
    this.#idle = this.#newIdle(NO_CHOICE);
    this.#thermometers.main.beginAnew(profile);
  }

  #commandRun(command: Command): CommandAnswer {
    if (command.name === 'start' || command.name === 'choose-profile')
      return unfit('A run is going already; end it first.');
    const meant = this.#thermometers.meant(command, this.#run!.run);
    this.feed({ atMs: this.#options.clock.nowMs(), source: PERSON, kind: 'command', command: meant });
    return { ok: true };
  }

  /** What the run does not know of its thermometers yet is part of its trace. */
  #tellRun(isOtherMain = false): void {
    const run = this.#going();
    if (run === null) return;
    const news = this.#thermometers.news(run.run, run.state.header, isOtherMain);
    for (const command of news) this.#feedOwn(command);
  }

  #startByHand(phase: string): CommandAnswer {
    const { profile } = this.#idle.choice;
    if (profile === null) return unfit('No profile is chosen yet.');
    if (phaseIndex(profile, phase) < 0) {
      const ids = profile.phases.map(({ id }) => id).join(', ');
      return { ok: false, because: 'wrong', detail: `${profile.id} has no phase ${phase}; it has ${ids}.` };
    }
    this.#begin(phase, PERSON, this.#options.clock.nowMs());
    return { ok: true };
  }

  /** In boiling water a probe that is being checked is warm, too. */
  #beginIfWarm(atMs: number): void {
    if (this.#probes.isChecking(atMs)) return;
    const phase = this.#idle.startingPhase(atMs);
    if (phase !== null) this.#begin(phase, OWN_SOURCE, atMs);
  }

  /** A fresh engine under the chosen profile, the kept minute, then the start: the run's trace is exactly that. */
  #begin(phase: string, by: string, atMs: number): void {
    const header = this.#headerOf(phase);
    if (header === null) return;
    const { bowl, name, store, wallNowMs, newRunId } = this.#options;
    const start: RecordedInput = { atMs, source: by, kind: 'command', command: { name: 'start', phase } };
    const inputs = [...this.#idle.kept, start];
    const startedAtMs = inputs[0]!.atMs;
    const startedAtWall = new Date(wallNowMs() - (atMs - startedAtMs)).toISOString();
    const { id: source, simulated } = this.#thermometers.main;
    const bowlName = name?.() ?? null;
    const run = { run: newRunId(), bowl, bowlName, header, simulated, startedAtMs, startedAtWall, source };
    this.#run?.tellAll();
    store.beginRun(run);
    this.#run = new LiveRun(run, { state: initialState(header), turns: 0, before: null }, this.#surroundings());
    this.#tell(this.#run.told.snapshot());
    for (const input of inputs) this.#run.feed(input);
  }

  /** What earlier runs of the bowl taught stands in the header: a replay knows what the run knew, whatever was learned since. */
  #headerOf(phase: string): RunHeader | null {
    const header = this.#idle.header(phase);
    const { store, bowl } = this.#options;
    const learned = together(store.learnedBefore(bowl, this.#thermometers.main.simulated, RUNS_BACK));
    return header === null || learned === null ? header : { ...header, learned };
  }

  #feedOwn(command: Command): void {
    this.feed({ atMs: this.#options.clock.nowMs(), source: OWN_SOURCE, kind: 'command', command });
  }

  /** The thermometer's source says when it is up again. */
  #feedLinkDown(atMs: number, why: string): void {
    this.feed({ atMs, source: OWN_SOURCE, kind: 'link', up: false, why });
  }

  #newIdle(choice: Choice): Idle {
    const { yardstick, profiles } = this.#options;
    return new Idle(yardstick, profiles, choice, this.#probe);
  }

  #surroundings() {
    const { store, clock, learnedOf } = this.#options;
    return { store, clock, learnedOf, tell: this.#tell };
  }

  readonly #tell: Tell = (message) => {
    for (const listener of this.#listeners) listener(message);
  };
}
