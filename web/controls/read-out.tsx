/** The spoken read-out: its button, and what makes it speak while it stands on the page of a run. */
import { useEffect, useRef } from 'preact/hooks';
import type { BowlLabel } from '../../server/core/show/wire.ts';
import { reader } from '../sound/reader.ts';
import { isDue, spokenText } from '../sound/spoken.ts';
import type { Spoken } from '../sound/spoken.ts';
import { useReader } from '../sound/use-reader.ts';
import { nameAmong } from '../words/bowl-name.ts';
import { SPEAK } from '../words/speak.ts';
import type { Moment, Sentence } from '../words/sentence.ts';
import { Button } from './button.tsx';
import { SIGN } from './icons.tsx';

/** For the More sheet; nothing where the browser cannot speak. */
export function SpeakButton() {
  const isOn = useReader();
  if (!reader.isThere) return null;
  return (
    <Button onPress={() => reader.turn(!isOn)} sign={isOn ? SIGN.soundOn : SIGN.soundOff} pressed={isOn}>
      {isOn ? SPEAK.on : SPEAK.off}
    </Button>
  );
}

export interface ReadOutProps {
  /** Those on the bench, and the one that is read out. */
  readonly bowls: readonly BowlLabel[];
  readonly bowl: string | null;
  readonly said: Sentence;
  readonly moment: Moment;
  readonly isLive: boolean;
}

/** Shows nothing. */
export function ReadOut(props: ReadOutProps) {
  return useReader() ? <Speaking {...props} /> : null;
}

function Speaking({ bowls, bowl, said, moment, isLive }: ReadOutProps) {
  const last = useRef<Spoken | null>(null);
  useEffect(() => {
    const now = { act: said.act, atMs: moment.atMs };
    if (!isDue(last.current, now)) return;
    last.current = now;
    reader.say(spokenText(nameAmong(bowls, bowl), said, moment, isLive));
  });
  return null;
}
