/** Whether an alarm would be heard from this screen, as far as a page can know. Pure: what the browser says in, one honest word out. */
import type { SoundState } from './audible.ts';

/** What the browser's audio is doing; `none`: never asked for. `interrupted`: a call or another program has taken the output. */
export type Output = 'none' | 'suspended' | 'running' | 'interrupted' | 'closed';

export interface Hearing {
  /** The person has asked for sound on this screen, and not turned it off since. */
  readonly isWanted: boolean;
  readonly output: Output;
  /** Its clock goes on: some browsers say running of a sound that stands still. */
  readonly isMoving: boolean;
  /** Answer to "Did you hear it?"; null: not given. A page cannot know of a muted tab, a silent switch or an unplugged loudspeaker. */
  readonly heard: 'yes' | 'no' | null;
}

export const SILENT: Hearing = { isWanted: false, output: 'none', isMoving: false, heard: null };

export function soundState({ isWanted, output, isMoving, heard }: Hearing): SoundState {
  if (!isWanted) return 'off';
  if (output !== 'running' || !isMoving) return 'stopped';
  if (heard === null) return 'asking';
  return heard === 'yes' ? 'on' : 'unheard';
}
