/**
 * Sound, where it needs a person: while no alarm would be heard, the loudest thing on the page after an alarm; then the test and its
 * question; where it was not heard, what to look at. Nothing once it was heard.
 */
import { useState } from 'preact/hooks';
import { speaker } from '../sound/speaker.ts';
import { useSpeaker } from '../sound/use-speaker.ts';
import { SILENT_WORDS } from '../words/sound.ts';
import { atHand, OrMissing } from '../part.tsx';
import { Button } from './button.tsx';
import { SIGN, SignIcon } from './icons.tsx';
import { STRIPS } from '../words/page.ts';

const SoundQuestion = atHand((part) => part.SoundQuestion, OrMissing);
const SoundHelp = atHand((part) => part.SoundHelp, OrMissing);

/** `bellTrouble`: why the host could not ring either; absent: it can, or nobody knows. */
export function SoundBar({ bellTrouble }: { readonly bellTrouble?: string | undefined }) {
  const state = useSpeaker();
  const [isHelping, setHelping] = useState(false);
  if (state === 'on') return null;
  if (state === 'asking') {
    const sayNo = (): void => {
      speaker.answer('no');
      setHelping(true);
    };
    return <SoundQuestion onNo={sayNo} />;
  }
  const test = (): void => {
    setHelping(false);
    void speaker.turnOn();
  };
  return (
    <>
      <SilentBar
        state={state}
        bellTrouble={bellTrouble}
        onPress={state === 'unheard' ? () => setHelping(true) : test}
      />
      {isHelping && <SoundHelp onTest={test} onClose={() => setHelping(false)} />}
    </>
  );
}

interface SilentBarProps {
  readonly state: keyof typeof SILENT_WORDS;
  readonly bellTrouble: string | undefined;
  readonly onPress: () => void;
}

function SilentBar({ state, bellTrouble, onPress }: SilentBarProps) {
  const { title, detail, button } = SILENT_WORDS[state];
  return (
    <aside class="sound-bar" aria-label={STRIPS.sound}>
      <SignIcon sign={SIGN.soundOff} />
      <p>
        <b>{title}</b> <span>{bellTrouble ?? detail}</span>
      </p>
      <Button onPress={onPress} look="ginger">
        {button}
      </Button>
    </aside>
  );
}
