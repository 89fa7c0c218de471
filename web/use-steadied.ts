/** This moment with its way ahead held still, for as long as the page stands. */
import { useRef } from 'preact/hooks';
import type { View } from '../server/core/show/view.ts';
import { steadied } from './steadied.ts';
import type { Steadied } from './steadied.ts';
import type { Moment } from './words/sentence.ts';

export function useSteadied(view: View, moment: Moment): Moment {
  const held = useRef<Steadied | null>(null);
  const phase = view.info?.profile.phases.find(({ id }) => id === view.phase);
  if (phase === undefined || moment.estimate === null) {
    held.current = null;
    return moment;
  }
  held.current = steadied(held.current, phase, moment.estimate, moment.atMs, moment.isRateUnknown);
  return { ...moment, ahead: held.current };
}
