/** Whether the test was heard, and what to look at where it was not. */
import { speaker } from '../sound/speaker.ts';
import { STRIPS } from '../words/page.ts';
import { HELP_WORDS, TEST_WORDS } from '../words/sound-test.ts';
import { Button } from './button.tsx';
import { SIGN, SignIcon } from './icons.tsx';
import { Sheet } from './sheet.tsx';

export function SoundQuestion({ onNo }: { readonly onNo: () => void }) {
  return (
    <aside class="sound-ask" aria-label={STRIPS.sound}>
      <SignIcon sign={SIGN.soundOn} />
      <p role="status">
        <b>{TEST_WORDS.title}</b> <span>{TEST_WORDS.detail}</span>
      </p>
      <Button onPress={() => speaker.answer('yes')} look="ginger">
        {TEST_WORDS.yes}
      </Button>
      <Button onPress={onNo}>{TEST_WORDS.no}</Button>
    </aside>
  );
}

export function SoundHelp({ onTest, onClose }: { readonly onTest: () => void; readonly onClose: () => void }) {
  return (
    <Sheet title={HELP_WORDS.title} onClose={onClose} isSmall>
      <ul class="sound-help">
        {HELP_WORDS.lines.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
      <Button onPress={onTest} look="ginger" sign={SIGN.soundOn}>
        {HELP_WORDS.again}
      </Button>
    </Sheet>
  );
}
