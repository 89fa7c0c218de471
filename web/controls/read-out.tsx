/** The spoken read-out: its button, and what makes it speak while a run stands on the page. */
import { useEffect, useRef, useState } from 'preact/hooks';
import { reader } from '../sound/reader.ts';
import { isDue, spokenText } from '../sound/spoken.ts';
import type { Spoken } from '../sound/spoken.ts';
import { SPEAK } from '../words/sound.ts';
import type { Moment, Sentence } from '../words/sentence.ts';
import { Button } from './button.tsx';

function useReader(): boolean {
  const [isOn, setOn] = useState(reader.isOn);
  useEffect(() => reader.subscribe(() => setOn(reader.isOn)), []);
  return isOn;
}

/** For the More sheet; nothing where the browser cannot speak. */
export function SpeakButton() {
  const isOn = useReader();
  if (!reader.isThere) return null;
  return (
    <Button onPress={() => reader.turn(!isOn)} sign={isOn ? 'soundOn' : 'soundOff'} pressed={isOn}>
      {isOn ? SPEAK.on : SPEAK.off}
    </Button>
  );
}

export interface ReadOutProps {
  readonly said: Sentence;
  readonly moment: Moment;
  readonly isLive: boolean;
}

/** Shows nothing. */
export function ReadOut({ said, moment, isLive }: ReadOutProps) {
  const isOn = useReader();
  const last = useRef<Spoken | null>(null);
  useEffect(() => {
    if (!isOn) {
      last.current = null;
      return;
    }
    const now = { act: said.act, atMs: moment.atMs };
    if (!isDue(last.current, now)) return;
    last.current = now;
    reader.say(spokenText(said, moment, isLive));
  });
  return null;
}
