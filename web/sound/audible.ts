/** What is to be made of whether an alarm would be heard from this screen. Pure. */

/**
 * off: nobody has asked for it. stopped: asked for, and the browser has silenced it. asking: sounding, and nobody has said that it was
 * heard. unheard: sounding, and not heard. on: sounding, and heard at this screen.
 */
export type SoundState = 'off' | 'stopped' | 'asking' | 'unheard' | 'on';

/** Only what somebody has heard counts: the host rings where no screen does. */
export function isHeard(state: SoundState): boolean {
  return state === 'on';
}

/** Nothing would be heard of it, as far as anybody knows. */
export function isSilent(state: SoundState): boolean {
  return state !== 'on' && state !== 'asking';
}

/** The browser plays it, heard or not. */
export function isSounding(state: SoundState): boolean {
  return state !== 'off' && state !== 'stopped';
}
