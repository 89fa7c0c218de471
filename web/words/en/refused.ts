/** Why a server that is there lets this screen see nothing. */
import type { RefusalReason } from '../../../server/core/show/wire.ts';
import type { Sentence } from './sentence.ts';

export const REFUSED: Readonly<Record<RefusalReason, Pick<Sentence, 'act' | 'detail'>>> = {
  'no-such-bowl': { act: 'No such bowl.', detail: 'Open the address that Bowlside printed.' },
  'too-many-screens': { act: 'Too many screens.', detail: 'Close one, then load this page again.' },
  protocol: { act: 'Load the page again.', detail: 'Bowlside is of another version than this page.' },
  'shut-out': { act: 'This screen was shut out.', detail: 'Load the page again, and give it a new code.' },
  'shutting-down': { act: 'Bowlside was shut down.', detail: 'Start it again; the run is kept and goes on.' },
};
