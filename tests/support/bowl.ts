/**
 * A bowl told in sentences: ramps, holds, gaps and what the person does, fed through the real engine once a second.
 * Holds no assertion. The probe follows the chocolate with a first-order lag, as probes do.
 */
import { readFileSync } from 'node:fs';
import { initialState, step } from '../../server/core/engine.ts';
import type { State } from '../../server/core/engine.ts';
import type { Command } from '../../server/core/record/command.ts';
import type { RunEvent } from '../../server/core/record/event.ts';
import type { Input } from '../../server/core/record/input.ts';
import type { Profile } from '../../server/core/record/profile.ts';
import { ENGINE_VERSION, NO_CORRECTION } from '../../server/core/record/run.ts';
import type { Reading, RunHeader } from '../../server/core/record/run.ts';

export function shippedProfile(id: string): Profile {
  return JSON.parse(readFileSync(new URL(`../../profiles/${id}.json`, import.meta.url), 'utf8')) as Profile;
}

export function headerFor(profile: Profile, change: Partial<RunHeader> = {}): RunHeader {
  return {
    engine: ENGINE_VERSION,
    profile,
    condition: null,
    probeLagS: 4,
    correction: NO_CORRECTION,
    roles: {},
    decimalComma: null,
    ...change,
  };
}

export class Bowl {
  state: State;
  atMs = 0;
  /** The chocolate, °C. */
  tempC: number;
  readonly events: RunEvent[] = [];
  readonly readings: Reading[] = [];
  readonly inputs: Input[] = [];
  private probeC: number;
  private readonly lagS: number;

  constructor(profile: Profile, tempC: number, change: Partial<RunHeader> = {}) {
    const header = headerFor(profile, change);
    this.state = initialState(header);
    this.lagS = header.probeLagS ?? 4;
    this.tempC = tempC;
    this.probeC = tempC;
  }

  feed(input: Input): this {
    const before = this.state;
    const output = step(before, input);
    this.state = output.state;
    this.inputs.push(input);
    this.events.push(...output.events);
    this.readings.push(...output.readings);
    return this;
  }

  do(command: Command): this {
    return this.feed({ atMs: this.atMs, source: 'person', kind: 'command', command });
  }

  start(phase: string): this {
    return this.do({ name: 'start', phase });
  }

  /** One reading a second while the chocolate goes to `toC` at so many degrees a minute. */
  ramp(toC: number, cPerMin: number): this {
    const seconds = Math.max(1, Math.round((Math.abs(toC - this.tempC) / cPerMin) * 60));
    const fromC = this.tempC;
    for (let s = 1; s <= seconds; s++) this.second(fromC + ((toC - fromC) * s) / seconds);
    return this;
  }

  /** The chocolate stays where it is. */
  hold(seconds: number): this {
    for (let s = 0; s < seconds; s++) this.second(this.tempC);
    return this;
  }

  /** Approaches a surrounding temperature as Newton says, time constant in seconds. */
  drift(towardsC: number, tauS: number, seconds: number): this {
    for (let s = 0; s < seconds; s++) this.second(towardsC + (this.tempC - towardsC) * Math.exp(-1 / tauS));
    return this;
  }

  /** The probe shows something else than the chocolate: what `shownC` says for each second since it began. */
  shows(
    seconds: number,
    shownC: (second: number) => number,
    meanwhile: (second: number) => number = () => this.tempC,
  ): this {
    for (let s = 1; s <= seconds; s++) {
      this.tempC = meanwhile(s);
      this.probeC = shownC(s);
      this.read(this.probeC);
    }
    return this;
  }

  /** Nothing is read for so long; the chocolate stays where it is. */
  silence(seconds: number): this {
    this.atMs += seconds * 1000;
    return this.feed({ atMs: this.atMs, kind: 'tick' });
  }

  line(text: string): this {
    this.atMs += 1000;
    return this.feed({ atMs: this.atMs, source: 'probe', kind: 'line', text });
  }

  read(valueC: number): this {
    this.atMs += 1000;
    const chocolate = Math.round(valueC * 100) / 100;
    return this.feed({ atMs: this.atMs, source: 'probe', kind: 'reading', valuesC: { chocolate } });
  }

  /** What was said, one word each: `melt`, `overshoot!` raised, `overshoot.` cleared, `?off-heat`, `=in-temper`. */
  get said(): string[] {
    return this.events.flatMap((event) => {
      if (event.kind === 'phase-entered') return [event.phase];
      if (event.kind === 'alarm-raised') return [`${event.alarm}!`];
      if (event.kind === 'alarm-cleared') return [`${event.alarm}.`];
      if (event.kind === 'cue') return [`?${event.cue}`];
      if (event.kind === 'standing') return [`=${event.standing}`];
      return [];
    });
  }

  get alarms(): string[] {
    return this.events.flatMap((event) => (event.kind === 'alarm-raised' ? [event.alarm] : []));
  }

  get phases(): string[] {
    return this.events.flatMap((event) => (event.kind === 'phase-entered' ? [event.phase] : []));
  }

  find<K extends RunEvent['kind']>(kind: K): Extract<RunEvent, { kind: K }>[] {
    return this.events.filter((event) => event.kind === kind) as Extract<RunEvent, { kind: K }>[];
  }

  private second(tempC: number): void {
    this.probeC += (this.tempC + (tempC - this.tempC) / 2 - this.probeC) * (1 - Math.exp(-1 / this.lagS));
    this.tempC = tempC;
    this.read(this.probeC);
  }
}

/** A dark bowl in the working phase, in temper, standing in the middle of the band. */
export function workingBowl(profile: Profile = shippedProfile('dark')): Bowl {
  return seededBowl(profile).ramp(31.2, 1).ramp(31.5, 0.3).hold(120);
}

/** A dark bowl that has just been satisfied in the cooling phase and stands in the seeding band. */
export function seededBowl(profile: Profile = shippedProfile('dark')): Bowl {
  return new Bowl(profile, 44).start('melt').ramp(46, 2).ramp(47, 0.5).hold(150).ramp(28, 2).ramp(27.5, 0.3).hold(200);
}
