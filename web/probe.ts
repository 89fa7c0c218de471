/** What the page asks of the thermometer: what is known of it, and how a check of it stands. */
import type { Uncertainty } from '../server/core/check/correction.ts';
import type { Reference, Standard } from '../server/core/check/standard.ts';
import type { Steadiness } from '../server/core/check/steady.ts';
import type { CheckPoint, ProbeCheck } from '../server/core/record/check.ts';
import type { Role } from '../server/core/record/command.ts';
import type { Correction } from '../server/core/record/run.ts';
import type { ElectricUnit, Sensor } from '../server/core/record/sensor.ts';
import { type Answer, ask, checked, hasFields } from './post.ts';

/** As the server tells it (`server/session/probe-known.ts`). */
export interface ProbeKnown {
  readonly lag: { readonly lagS: number } | null;
  readonly correction: Correction;
  readonly check: ProbeCheck | null;
  readonly isOld: boolean;
  readonly uncertainty: Uncertainty | null;
  readonly lastLine: string | null;
  readonly numbers: readonly NumberKnown[];
}

export interface NumberKnown {
  readonly key: string;
  readonly value: number;
  readonly unit: ElectricUnit | null;
  readonly sensor: Sensor | null;
  readonly likely: Sensor | null;
  readonly valueC: number | null;
  readonly role: Role | null;
}

/** As the server tells it (`server/session/checking.ts`). */
export interface CheckStands {
  readonly steadiness: Steadiness;
  readonly reference: Reference | null;
  readonly point: CheckPoint | null;
  readonly outcome:
    | { readonly is: 'nothing' }
    | { readonly is: 'too-far-off' }
    | {
        readonly is: 'found';
        readonly correction: Correction;
        readonly atC: number;
        readonly uncertainty: Uncertainty;
      };
}

function addressOf(bowl: string): string {
  return `/api/bowls/${encodeURIComponent(bowl)}`;
}

export async function fetchProbe(bowl: string): Promise<Answer<ProbeKnown>> {
  return checked(await ask(`${addressOf(bowl)}/probe`), hasFields<ProbeKnown>('correction', 'check', 'numbers'));
}

export async function askCheck(
  bowl: string,
  standard: Standard | null,
  points: readonly CheckPoint[],
): Promise<Answer<CheckStands>> {
  const answer = await ask(`${addressOf(bowl)}/check`, { standard, points });
  return checked(answer, hasFields<CheckStands>('steadiness', 'reference', 'point', 'outcome'));
}

export function leaveCheck(bowl: string): Promise<Answer<unknown>> {
  return ask(`${addressOf(bowl)}/check`, undefined, 'DELETE');
}
