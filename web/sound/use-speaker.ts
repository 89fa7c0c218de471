/** Redraws a component when the sound of this screen changes. */
import { useEffect, useState } from 'preact/hooks';
import type { SoundState } from './audible.ts';
import { speaker } from './speaker.ts';

export function useSpeaker(): SoundState {
  const [state, setState] = useState(speaker.state);
  useEffect(() => {
    const look = (): void => setState(speaker.state);
    look();
    return speaker.subscribe(look);
  }, []);
  return state;
}
