/**
 * The thermometers of one bowl: the one in its chocolate, those that give it its bath or its room, and what is known of each. Says which
 * commands bring a run up to it. Knows no ports and no other bowl.
 */
import type { ProbeNamed, UsedLag } from '../core/check/told.ts';
import type { Command, Role } from '../core/record/command.ts';
import { channelsNamed, companionOf, isOfProbe, type Probe } from '../core/record/probe.ts';
import { type Companion, type Corrected, FIRST_LEFT, NO_CORRECTION, type RunHeader } from '../core/record/run.ts';
import type { Sensors } from '../core/record/sensor.ts';
import { type Roles, withChocolateNamed } from '../bench/bench.ts';
import type { KnownProbes } from '../known/known-probes.ts';
import type { Source } from '../source/source.ts';
import type { NewRun } from '../store/records.ts';
import { NAMED_MOST, NO_THERMOMETER, TOO_MANY_NAMED } from './answer.ts';

/** What a session knows of where its inputs come from. */
export type Named = Pick<Source, 'id' | 'simulated' | 'beginAnew'>;

/** Where thermometers are, as far as one bowl goes. */
export interface Places {
  /** null: nobody has said. */
  rolesOf(thermometer: string): Roles | null;
  /** A channel is given a role in this bowl. False where there is nothing to tell the thermometer from, so that it is a matter of its own. */
  assign(thermometer: string, channel: string, role: Role): boolean;
  /** Whether a run that is going, in whichever bowl, has this channel in something; `channel` null: any of the thermometer. */
  isInRun(thermometer: string, channel: string | null): boolean;
}

/** The only thermometer of the only bowl. */
export const ONE_PLACE: Places = { rolesOf: () => null, assign: () => false, isInRun: () => false };

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

  isRead(source: string): boolean {
    return source === this.#main.id ? this.isThere : this.isBeside(source);
  }

  /** Why that cannot be said of a thermometer here; null: it can, or the command is about something else. */
  refusalOf(command: Command): string | null {
    if (!isOfProbe(command)) return null;
    const { source = this.#main.id } = command;
    if (!this.isRead(source)) return NO_THERMOMETER;
    if (command.name === 'choose-reading' || command.channel === undefined) return null;
    const named = channelsNamed(this.each().find(({ id }) => id === source)!.known);
    return named.size < NAMED_MOST || named.has(command.channel) ? null : TOO_MANY_NAMED;
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

  /** The one in the chocolate, then those beside it, each with what is known of it in this bowl. */
  each(): readonly { readonly id: string; readonly known: Companion }[] {
    return [this.#main, ...this.#beside].map((each) => ({ id: each.id, known: this.#known(each) }));
  }

  isInAnyRun({ source, channel }: ProbeNamed): boolean {
    return this.#places.isInRun(source, channel);
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

  /** What the run, begun with `run.source`, does not know of its thermometers yet. `isOtherMain`: one has come into the chocolate. */
  news(run: Pick<NewRun, 'source'>, header: RunHeader, isOtherMain: boolean): readonly Command[] {
    if (!this.isThere) return [];
    const news = this.#newsOfEach(run, header);
    return isOtherMain ? this.#withLag(news, run, header) : news;
  }

  #newsOfEach(run: Pick<NewRun, 'source'>, header: RunHeader): readonly Command[] {
    return [this.#main, ...this.#beside].flatMap((each) => {
      const wanted = this.#known(each);
      const isMain = each === this.#main;
      const isFirst = each.id === run.source;
      const isNamed = isMain && (!isFirst || FIRST_LEFT in header.roles);
      const roles = isNamed ? withChocolateNamed(wanted.roles) : wanted.roles;
      const source = isFirst ? undefined : each.id;
      const known = isFirst ? header : header.companions?.[each.id];
      if (known === undefined) return newcomer({ ...wanted, roles }, each.id);
      // What the chocolate is corrected by is said in its own run; what one beside it is, perhaps in another bowl's.
      const whole = isMain || isSame(known, wanted) ? [] : [setCorrection(wanted, source)];
      return [...newRoles(known.roles, roles, source), ...whole, ...newOfChannels(known, wanted, source)];
    });
  }

  /** With its own lag, said with its role. */
  #withLag(news: readonly Command[], run: Pick<NewRun, 'source'>, header: RunHeader): readonly Command[] {
    const { id } = this.#main;
    const lagS = this.lag?.lagS ?? null;
    if (lagS === header.probeLagS) return news;
    const source = id === run.source ? {} : { source: id };
    const isChocolate = (command: Command): boolean =>
      command.name === 'assign-role' && command.role === 'chocolate' && command.source === source.source;
    if (news.some(isChocolate)) return news.map((command) => (isChocolate(command) ? { ...command, lagS } : command));
    const channel = Object.entries(this.#known(this.#main).roles).find(([, role]) => role === 'chocolate')?.[0];
    return [...news, { name: 'assign-role', channel: channel ?? FIRST_LEFT, role: 'chocolate', lagS, ...source }];
  }

  #known(source: Named): Companion {
    const known = companionOf(this.#probes.of(source));
    const here = source === NONE ? null : this.#places.rolesOf(source.id);
    return here === null ? known : { ...known, roles: here };
  }
}

function setCorrection({ correction, check }: Corrected, source: string | undefined, channel?: string): Command {
  const of = { ...(channel !== undefined && { channel }), ...(source !== undefined && { source }) };
  return { name: 'set-correction', ...correction, ...(check && { check }), ...of };
}

/** Channels whose own correction is not as it was. */
function newOfChannels(
  { corrections: before = {} }: Pick<Companion, 'corrections'>,
  { corrections: after = {} }: Pick<Companion, 'corrections'>,
  source: string | undefined,
): Command[] {
  const changed = Object.entries(after).filter(
    ([channel, own]) => !Object.hasOwn(before, channel) || !isSame(before[channel]!, own),
  );
  return changed.map(([channel, own]) => setCorrection(own, source, channel));
}

function isSame(a: Corrected, b: Corrected): boolean {
  const [of, and] = [a, b].map(({ correction: { offsetC, gain }, check = null }) => [offsetC, gain, check]);
  return JSON.stringify(of) === JSON.stringify(and);
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
function newcomer(known: Companion, source: string): Command[] {
  const { roles, sensors = {}, decimalComma } = known;
  const isCorrected = !isSame(known, { correction: NO_CORRECTION });
  // A number can be named of a channel that has no role by itself: a cold end, or whatever is left first.
  const unnamed = Object.keys(sensors).map((channel) => [channel, roles[FIRST_LEFT] ?? 'ignored'] as const);
  return [
    ...newRoles({}, { ...Object.fromEntries(unnamed), ...roles }, source, sensors),
    ...(isCorrected ? [setCorrection(known, source)] : []),
    ...newOfChannels({}, known, source),
    ...(decimalComma === null ? [] : [{ name: 'choose-reading', decimalComma, source } as const]),
  ];
}
