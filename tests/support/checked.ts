/** What a check of a thermometer found, made up: in ice, four tenths too high. */
import type { CheckPoint } from '../../server/core/record/check.ts';

export const ICE_POINT = {
  against: 'ice',
  trueC: 0,
  withinC: 0.2,
  readC: 0.4,
  spreadC: 0.05,
  stepC: 0.1,
  readings: 61,
} as const satisfies CheckPoint;
