/** A person's commands, taken by the same door as readings. One that does not fit the moment changes nothing. */
import { firstDownIndex, phaseIndex } from '../show/course.ts';
import { lowestLostC } from '../show/profile-limits.ts';
import type { Act, Command } from '../record/command.ts';
import type { AlarmName } from '../record/event.ts';
import { knownAfter, type OfProbe } from '../record/probe.ts';
import { type Companion, FIRST_LEFT, NO_CORRECTION, type RunHeader } from '../record/run.ts';
import { acknowledge, isRaised } from './alarms.ts';
import { QUIET_MS, STRIP_MS } from './bounds.ts';
import { enterPhase } from './phases.ts';
import { stripTest } from './standing.ts';
import type { Turn } from './watch.ts';

/** A turn in which the header may change and the run may end. */
export interface CommandTurn extends Turn {
  header: RunHeader;
  ended: boolean;
  /** The estimate of this moment, °C; null before the first good reading. */
  readonly tempC: number | null;
}

export function obey(turn: CommandTurn, command: Command): void {
  switch (command.name) {
    case 'choose-profile':
      return chooseProfile(turn, command);
    case 'start':
      return start(turn, command.phase);
    case 'next':
      return walk(turn, +1);
    case 'back':
      return walk(turn, -1);
    case 'end':
      return end(turn);
    case 'act':
      return note(turn, command.act);
    case 'acknowledge':
      return seen(turn, command);
    case 'quieten':
      if (isRaised(turn.watch.alarms, command.alarm)) {
        turn.say({ kind: 'alarm-quietened', alarm: command.alarm, untilMs: turn.atMs + QUIET_MS });
      }
      return;
    case 'assign-role': {
      const { name: _name, ...change } = command;
      const { lagS } = change;
      const header = withKnown(turn.header, command);
      turn.header = lagS === undefined ? header : { ...header, probeLagS: lagS };
      return turn.say({ kind: 'role-changed', ...change });
    }
    case 'choose-reading':
      turn.header = withKnown(turn.header, command);
      return;
    case 'set-correction': {
      const { name: _name, source, ...correction } = command;
      turn.header = withKnown(turn.header, command);
      // What the chocolate is said to be hangs on its own thermometer alone.
      return source === undefined ? turn.say({ kind: 'correction-changed', ...correction }) : undefined;
    }
  }
}

/** A thermometer that comes to stand beside the bowl gives nothing until a role says so. */
const NEW_COMPANION: Companion = { correction: NO_CORRECTION, roles: { [FIRST_LEFT]: 'ignored' }, decimalComma: null };

/** The header with something else known of one thermometer: of the chocolate's, or of the companion of this source. */
function withKnown(header: RunHeader, command: OfProbe): RunHeader {
  const { source } = command;
  if (source === undefined) return knownAfter(header, command);
  const { companions = {} } = header;
  const known = Object.hasOwn(companions, source) ? companions[source]! : NEW_COMPANION;
  return { ...header, companions: { ...companions, [source]: knownAfter(known, command) } };
}

/** What foretold a crossing has nothing more to say once the crossing itself was seen: one event wants one answer. */
const FORETOLD_BY: Readonly<Partial<Record<AlarmName, AlarmName>>> = {
  overshoot: 'overshoot-ahead',
  scorch: 'scorch-ahead',
  undershoot: 'undershoot-ahead',
};

function seen(turn: CommandTurn, { alarm, by }: Extract<Command, { name: 'acknowledge' }>): void {
  const foretold = FORETOLD_BY[alarm];
  for (const each of foretold === undefined ? [alarm] : [alarm, foretold])
    turn.watch.alarms = acknowledge(turn.watch.alarms, each, by, (body) => turn.say(body));
}

/** Only before the start: the profile of a run that is going is part of its record. */
function chooseProfile(turn: CommandTurn, command: Extract<Command, { name: 'choose-profile' }>): void {
  if (turn.watch.phase !== null) return;
  turn.header = { ...turn.header, profile: command.profile, condition: command.condition };
}

function start(turn: CommandTurn, phase: string): void {
  const index = phaseIndex(turn.profile, phase);
  if (turn.watch.phase !== null || index < 0) return;
  turn.say({ kind: 'run-started', profile: turn.profile.id, condition: turn.header.condition });
  enterPhase(turn, index, 'hand');
  const { standing, why } = turn.watch;
  if (standing === 'not-made-yet' && firstDownIndex(turn.profile) >= 0) turn.say({ kind: 'standing', standing, why });
}

function walk(turn: CommandTurn, by: 1 | -1): void {
  if (turn.watch.phase === null) return;
  const to = turn.watch.phase + by;
  if (to >= 0 && to < turn.profile.phases.length) enterPhase(turn, to, 'hand');
}

function end(turn: CommandTurn): void {
  if (turn.watch.phase === null) return;
  turn.say({ kind: 'run-ended', by: 'hand' });
  turn.ended = true;
}

/** What a person says was done that turns the bowl's course: the readings are about to show it. */
export function changesTheBowl(command: Command): boolean {
  return command.name === 'act' && TURNING.includes(command.act);
}

const TURNING: readonly Act[] = [
  'off-heat',
  'on-heat',
  'off-cold',
  'on-cold',
  'topped-up-tempered',
  'topped-up-untempered',
  'seed-added',
];

/** What a person did is written down, and taken as a hint where it explains what the thermometer is about to show. */
function note(turn: CommandTurn, act: Act): void {
  if (turn.watch.phase === null) return;
  turn.say({ kind: 'act', act });
  if (act === 'off-heat' || act === 'off-cold') heed(turn, act);
  if (act === 'topped-up-untempered' || act === 'topped-up-tempered') turn.watch.toppedUpAtMs = turn.atMs;
  if (act === 'strip-test-good' || act === 'strip-test-bad') {
    const lostC = lowestLostC(turn.profile);
    stripTest(turn, act === 'strip-test-good', lostC !== null && turn.tempC !== null && turn.tempC >= lostC);
    if (turn.watch.stripDueAtMs !== null) turn.watch.stripDueAtMs = turn.atMs + STRIP_MS;
  }
}

function heed(turn: CommandTurn, cue: 'off-heat' | 'off-cold'): void {
  const spent = turn.watch.cues[cue];
  if (spent !== undefined) turn.watch.cues = { ...turn.watch.cues, [cue]: { ...spent, heeded: true } };
}
