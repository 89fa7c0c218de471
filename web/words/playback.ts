/** What the buttons of playback say. */
import { inLanguage } from './language.ts';

export const PLAYBACK = inLanguage({
  en: {
    title: 'Playback',
    ribbon: (speed: number, isPlaying: boolean) => {
      if (!isPlaying) return 'Playback, standing still';
      return speed === 1 ? 'Playback, as fast as it was' : `Playback, ${speed} times as fast`;
    },
    play: 'Play',
    stop: 'Stop',
    move: (bySpan: string, isOn: boolean) => (isOn ? `On ${bySpan}` : `Back ${bySpan}`),
    eventBefore: 'Event before',
    nextEvent: 'Next event',
    head: 'Moment shown',
    speed: (times: number) => `${times}×`,
    asItWent: 'As it went',
    wholeRun: 'Whole run',
    noteHere: 'Note here',
    noteToHere: 'Note up to here',
    spanFrom: 'Span from here',
    spanStarted: (clock: string) => `Span from ${clock}`,
    judgeAgain: 'Judge again',
    keys: 'Space plays and stops, arrows move by 10 s, with Shift to the next event; + and - change the speed, N notes.',
    ownKeys: 'A key you taught something does that here too.',
  },
});
