/** What a person may tell Bowlside: a closed list. Commands enter by the same door as readings and are part of the trace. */
import type { ProbeCheck } from './check.ts';
import type { Profile } from './profile.ts';
import type { Sensor } from './sensor.ts';
import type { AlarmName } from './event.ts';

/** How the chocolate stands when the run begins. */
export type Condition = 'solid' | 'melted' | 'tempered';

/** What the person did, in the trade's words. */
export const ACTS = [
  'off-heat',
  'on-heat',
  'off-cold',
  'on-cold',
  'stirred',
  'topped-up-tempered',
  'topped-up-untempered',
  'seed-added',
  'strip-laid',
  'strip-tacky',
  'strip-test-good',
  'strip-test-bad',
  'dipping-started',
  'dipping-stopped',
] as const;
export type Act = (typeof ACTS)[number];

export type Role = 'chocolate' | 'bath' | 'room' | 'ignored';

export type Command =
  | { readonly name: 'choose-profile'; readonly profile: Profile; readonly condition: Condition }
  /** Begin the run at a phase of the chosen profile (its id). */
  | { readonly name: 'start'; readonly phase: string }
  | { readonly name: 'next' }
  | { readonly name: 'back' }
  | { readonly name: 'end' }
  | { readonly name: 'act'; readonly act: Act }
  | { readonly name: 'acknowledge'; readonly alarm: AlarmName; readonly by?: string }
  /** Sound only, for two minutes. */
  | { readonly name: 'quieten'; readonly alarm: AlarmName }
  /**
   * What a channel measures; `sensor`: what its number is, absent: as before; `lagS`: how late the thermometer is that gives the chocolate from
   * now on, s to 63.2 % of a step, null: not measured, absent: as before.
   */
  | ({
      readonly name: 'assign-role';
      readonly channel: string;
      readonly role: Role;
      readonly sensor?: Sensor;
      readonly lagS?: number | null;
    } & OfThermometer)
  /** Which of two possible readings of an ambiguous line is meant. */
  | ({ readonly name: 'choose-reading'; readonly decimalComma: boolean } & OfThermometer)
  /**
   * corrected = gain × raw + offsetC. `check`: where it comes from; absent: a person says it, and nobody has checked. `channel`: of this one
   * alone, whatever it is in; absent: of the chocolate, or of all that a companion gives.
   */
  | ({
      readonly name: 'set-correction';
      readonly offsetC: number;
      readonly gain: number;
      readonly check?: ProbeCheck;
      readonly channel?: string;
    } & OfThermometer);

/** `source`: the companion that is meant; absent: the thermometer in the chocolate. */
export interface OfThermometer {
  readonly source?: string;
}

export type CommandName = Command['name'];
