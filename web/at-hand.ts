/**
 * What answers a hand, fetched as soon as the page stands and before anything is tapped: a page that only shows a bowl needs none of it.
 * Nothing of an alarm is among it but its voice, which a tap has to turn on first; nor the button and the keys that answer one.
 */
export { LockBar } from './controls/lock-bar.tsx';
export { LookButtons } from './controls/look-buttons.tsx';
export { SoundHelp, SoundQuestion } from './controls/sound-test.tsx';
export { StripTestBar } from './controls/strip-test.tsx';
export { postNote } from './fetched.ts';
export { soundOn } from './sound/sound-on.ts';
