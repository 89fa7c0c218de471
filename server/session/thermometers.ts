/**
 * The thermometers of one bowl: the one in its chocolate, those that give it its bath or its room, and what is known of each. Says which
 * commands bring a run up to it. Knows no ports and no other bowl.
 */
import type { Command, Role } from '../core/record/command.ts';
import { companionOf, isOfProbe, type Probe } from '../core/record/probe.ts';
import { type Companion, FIRST_LEFT, NO_CORRECTION, type RunHeader } from '../core/record/run.ts';
import type { Sensors } from '../core/record/sensor.ts';
import { type Roles, withChocolateNamed } from '../bench/bench.ts';
import type { KnownProbes, UsedLag } from '../known/known-probes.ts';
import type { Source } from '../source/source.ts';
import type { NewRun } from '../store/records.ts';

/** What a session knows of where its inputs come from. */
export type Named = Pick<Source, 'id' | 'simulated' | 'beginAnew'>;

/** Where thermometers are, as far as one bowl goes. */
export interface Places {
  /** null: nobody has said. */
  rolesOf(thermometer: string): Roles | null;
  /** A channel is given a role in this bowl. False where there is nothing to tell the thermometer from, so that it is a matter of its own. */
  assign(thermometer: string, channel: string, role: Role): boolean;
}

/** The only thermometer of the only bowl. */
export const ONE_PLACE: Places = { rolesOf: () => null, assign: () => false };

const NONE: Named = { id: 'none', simulated: false };

export class BowlThermometers {
  readonly #probes: KnownProbes;
  readonly #places: Places;
  #main: Named = NONE;
  #beside: readonly Named[] = [];

  constructor(probes: KnownProbes, places: Places) {
    this.#probes = probes;
    this.#places = places;
  }

  /** The one in the chocolate; one that is called `none` where there is none. */
  get main(): Named {
    return this.#main;
  }

  get isThere(): boolean {
    return this.#main !== NONE;
  }

  isBeside(source: string): boolean {
    return this.#beside.some(({ id }) => id === source);
  }

  /** A real thermometer is in the chocolate. */
  get isMeasured(): boolean {
    return this.isThere && !this.#main.simulated;
  }

  get lag(): UsedLag | null {
    return this.#probes.lagOf(this.#main);
  }

  /** null: none is in the chocolate. */
  use(main: Named | null): void {
    this.#main = main ?? NONE;
  }

  stand(beside: readonly Named[]): void {
    this.#beside = beside;
  }

  /** What a run of this bowl begins with. */
  probe(): Probe {
    const known = { ...this.#probes.of(this.#main), roles: this.#known(this.#main).roles };
    if (this.#beside.length === 0) return known;
    const companions = Object.fromEntries(this.#beside.map((each) => [each.id, this.#known(each)]));
    return { ...known, companions };
  }

  /** The command as the run has to hear it: a run names every thermometer but the one it began with. */
  meant(command: Command, run: Pick<NewRun, 'source'>): Command {
    if (!isOfProbe(command)) return command;
    const { source = this.#main.id, ...rest } = command;
    return (source === run.source ? rest : { ...rest, source }) as Command;
  }

  /** What a person says of a thermometer. False where the command is about something else, or nothing new. */
  learn(command: Command): boolean {
    if (!isOfProbe(command)) return false;
    const { source: id = this.#main.id, ...said } = command;
    const source = [this.#main, ...this.#beside].find((each) => each.id === id);
    if (source === undefined || source === NONE) return false;
    // Where the bench says what a channel is in, what its number is and what was checked are still the thermometer's own.
    const isPlaced = said.name === 'assign-role' && this.#places.assign(id, said.channel, said.role);
    return this.#probes.learn(source, said) || isPlaced;
  }

  /** What the run, begun with `run.source`, does not know of its thermometers yet. */
  news(run: Pick<NewRun, 'source'>, header: RunHeader): readonly Command[] {
    if (!this.isThere) return [];
    return [this.#main, ...this.#beside].flatMap((each) => {
      const wanted = this.#known(each);
      if (each.id === run.source) return newRoles(header.roles, wanted.roles, undefined);
      const known = header.companions?.[each.id];
      const roles = each === this.#main ? withChocolateNamed(wanted.roles) : wanted.roles;
      return [
        ...(known === undefined ? newcomer({ ...wanted, roles }, each.id) : newRoles(known.roles, roles, each.id)),
      ];
    });
  }

  #known(source: Named): Companion {
    const known = companionOf(this.#probes.of(source));
    const here = source === NONE ? null : this.#places.rolesOf(source.id);
    return here === null ? known : { ...known, roles: here };
  }
}

/** What is no longer said of a channel makes it nothing. */
function newRoles(before: Roles, after: Roles, source: string | undefined, sensors: Sensors = {}): Command[] {
  const of = source === undefined ? {} : { source };
  const gone = Object.keys(before).filter((channel) => !(channel in after) && before[channel] !== 'ignored');
  const changed = Object.entries(after).filter(([channel, role]) => before[channel] !== role);
  return [
    ...gone.map((channel): Command => ({ name: 'assign-role', channel, role: 'ignored', ...of })),
    ...changed.map(([channel, role]): Command => {
      const sensor = Object.hasOwn(sensors, channel) ? { sensor: sensors[channel]! } : {};
      return { name: 'assign-role', channel, role, ...sensor, ...of };
    }),
  ];
}

/** All of it; the roles come before the correction, as a check does not outlive another role. */
function newcomer({ correction, check, roles, sensors = {}, decimalComma }: Companion, source: string): Command[] {
  const { offsetC, gain } = correction;
  const isCorrected = check || offsetC !== NO_CORRECTION.offsetC || gain !== NO_CORRECTION.gain;
  // A number can be named of a channel that has no role by itself: a cold end, or whatever is left first.
  const unnamed = Object.keys(sensors).map((channel) => [channel, roles[FIRST_LEFT] ?? 'ignored'] as const);
  return [
    ...newRoles({}, { ...Object.fromEntries(unnamed), ...roles }, source, sensors),
    ...(isCorrected ? [{ name: 'set-correction', offsetC, gain, ...(check && { check }), source } as const] : []),
    ...(decimalComma === null ? [] : [{ name: 'choose-reading', decimalComma, source } as const]),
  ];
}
