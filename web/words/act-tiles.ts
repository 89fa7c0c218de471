/** The acts that can be noted by a tap, in the order of their tiles. */
import type { Act } from '../../server/core/record/command.ts';
import { ACT_NAME } from './names.ts';

/** The likeliest of a heading first. */
export const ACTS_BY_HEADING: Readonly<Record<'up' | 'down' | 'hold', readonly Act[]>> = {
  up: actsFrom(['off-heat', 'on-heat', 'stirred']),
  down: actsFrom(['stirred', 'off-cold', 'seed-added']),
  hold: actsFrom(['on-heat', 'off-heat', 'topped-up-tempered', 'strip-test-good', 'strip-test-bad', 'dipping-started']),
};

/** A strip that is still tacky is told of where it is asked for, and nowhere else. */
function actsFrom(first: readonly Act[]): readonly Act[] {
  const all = (Object.keys(ACT_NAME) as Act[]).filter((act) => act !== 'strip-tacky');
  return [...first, ...all.filter((act) => !first.includes(act))];
}
