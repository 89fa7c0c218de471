/**
 * Ways in which a board, a meter, a stick or a logger may write what it measures: of our own making, none copied from a device. Each says
 * what is meant by what it writes, so that a reading can be called right or wrong.
 */
import type { LineFormat } from './format.ts';
import { LISTED } from './listed.ts';
import { ODD } from './odd.ts';
import { WORDED } from './worded.ts';

export const FORMATS: readonly LineFormat[] = [...WORDED, ...LISTED, ...ODD];
