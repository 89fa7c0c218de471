/** What cannot be taken back takes two taps in two places: where the first was, the way out stands. */
import { useState } from 'preact/hooks';
import { Button } from './button.tsx';

export interface TwoStepsProps {
  readonly word: string;
  readonly ask: string;
  readonly yes: string;
  readonly no: string;
  readonly onYes: () => void;
  readonly disabled?: boolean;
  /** What it is called where its words alone don't say. */
  readonly label?: string;
}

export function TwoSteps({ word, ask, yes, no, onYes, disabled = false, label }: TwoStepsProps) {
  const [isAsking, setAsking] = useState(false);
  if (!isAsking || disabled) {
    const more = label === undefined ? {} : { label };
    return (
      <Button onPress={() => setAsking(true)} disabled={disabled} class="button-low" {...more}>
        {word}
      </Button>
    );
  }
  const answer = (): void => {
    setAsking(false);
    onYes();
  };
  return (
    <div class="two-steps" role="group" aria-label={ask}>
      <p>{ask}</p>
      <Button onPress={() => setAsking(false)} look="solid" class="button-low">
        {no}
      </Button>
      <Button onPress={answer} class="button-low">
        {yes}
      </Button>
    </div>
  );
}
