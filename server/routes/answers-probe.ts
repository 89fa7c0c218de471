/** What answers about a thermometer look like, as `answers.ts` has the others. */
import type { Uncertainty } from '../core/check/correction.ts';
import type { Reference } from '../core/check/standard.ts';
import type { Steadiness } from '../core/check/steady.ts';
import type { CheckOutcome, CheckStands, NumberKnown, ProbeInUse, ProbeKnown } from '../core/check/told.ts';
import { checkPointShape, probeCheckShape } from '../core/record/check.ts';
import { roleShape } from '../core/record/input-file.ts';
import { sensorShape } from '../core/record/sensor.ts';
import {
  type Fields,
  finite,
  flag,
  list,
  object,
  oneOf,
  orNull,
  type Shape,
  text,
  union,
  wholeFrom,
} from '../core/record/shape.ts';
import { correctionShape } from '../core/record/trace.ts';
import { usedLagShape } from './answers.ts';

const UNCERTAINTY: Fields<Uncertainty> = { biasC: finite, noiseC: finite, withinC: finite };
const uncertaintyShape = object(UNCERTAINTY);

const STEADINESS: Fields<Steadiness> = {
  state: oneOf(['waiting', 'moving', 'restless', 'steady']),
  forS: finite,
  readings: wholeFrom(0),
  meanC: orNull(finite),
  spreadC: finite,
  slopeCPerMin: finite,
  stepC: finite,
};

const REFERENCE: Fields<Reference> = { trueC: finite, withinC: finite };

type OutcomeOf<I extends CheckOutcome['is']> = Extract<CheckOutcome, { is: I }>;

function outcome<I extends CheckOutcome['is']>(is: I, fields: Fields<Omit<OutcomeOf<I>, 'is'>>): Shape {
  return object({ is: oneOf([is]), ...fields });
}

const OUTCOMES: { readonly [I in CheckOutcome['is']]: Shape } = {
  nothing: outcome('nothing', {}),
  'too-far-off': outcome('too-far-off', { mostC: finite }),
  found: outcome('found', { correction: correctionShape, atC: finite, uncertainty: uncertaintyShape }),
};

const STANDS: Fields<CheckStands> = {
  steadiness: object(STEADINESS),
  reference: orNull(object(REFERENCE)),
  point: orNull(checkPointShape),
  outcome: union('is', OUTCOMES),
  atWall: text,
};
export const checkStandsShape = object(STANDS);

const NUMBER: Fields<NumberKnown> = {
  key: text,
  value: finite,
  unit: orNull(oneOf(['ohm', 'kohm', 'mV', 'uV'])),
  sensor: orNull(sensorShape),
  likely: orNull(sensorShape),
  valueC: orNull(finite),
  role: orNull(roleShape),
};

const IN_USE: Fields<ProbeInUse> = {
  source: text,
  channel: orNull(text),
  role: oneOf(['chocolate', 'bath', 'room']),
  correction: correctionShape,
  check: orNull(probeCheckShape),
  isOld: flag,
  uncertainty: orNull(uncertaintyShape),
};

const PROBE: Fields<ProbeKnown> = {
  lag: orNull(usedLagShape),
  probes: list(object(IN_USE)),
  atC: finite,
  lastLine: orNull(text),
  numbers: list(object(NUMBER)),
};
export const probeKnownShape = object(PROBE);
