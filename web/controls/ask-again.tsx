/** What is shown may be otherwise by now: it could not be fetched again. Says why, and asks once more by a press. */
import { START } from '../words/start.ts';
import { Button } from './button.tsx';

export function AskAgainStrip({ why, onAgain }: { readonly why: string; readonly onAgain: () => void }) {
  return (
    <div class="strip strip-was" role="alert">
      <b>{why}</b>
      <Button onPress={onAgain} class="button-low">
        {START.tryAgain}
      </Button>
    </div>
  );
}
