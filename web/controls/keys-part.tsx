/** The keys of this viewer, in the More sheet: what each does, and teaching another by pressing it. */
import { useLayoutEffect, useState } from 'preact/hooks';
import { KEY_ACTIONS, USUAL_KEYS } from '../keys.ts';
import type { KeyAction, Keys } from '../keys.ts';
import { keepKeys, keptKeys } from '../key-presses.ts';
import { canBeTaught, taught } from '../taught-keys.ts';
import { KEY_DOES, KEY_WORDS, keyName } from '../words/keys.ts';
import { Button } from './button.tsx';

export function KeysPart() {
  const [keys, setKeys] = useState(keptKeys);
  const [teaching, setTeaching] = useState<KeyAction | null>(null);
  const change = (next: Keys): void => {
    keepKeys(next);
    setKeys(next);
    setTeaching(null);
  };
  useLayoutEffect(() => {
    if (teaching === null) return undefined;
    const press = (event: KeyboardEvent): void => {
      if (event.key === 'Escape') {
        event.preventDefault();
        return setTeaching(null);
      }
      if (!canBeTaught(event.key)) return;
      event.preventDefault();
      event.stopPropagation();
      change(taught(keys, teaching, event.key));
    };
    window.addEventListener('keydown', press, { capture: true });
    return () => window.removeEventListener('keydown', press, { capture: true });
  });
  return (
    <section class="sheet-part">
      <h3>{KEY_WORDS.title}</h3>
      <p>{KEY_WORDS.intro}</p>
      <ul class="keys">
        {KEY_ACTIONS.map((action) => (
          <li key={action}>
            <span>{KEY_DOES[action]}</span>
            <kbd>{keyName(keys[action])}</kbd>
            <Button
              onPress={() => setTeaching(teaching === action ? null : action)}
              pressed={teaching === action}
              class="button-low"
              label={`${KEY_WORDS.teach}: ${KEY_DOES[action]}`}
            >
              {teaching === action ? KEY_WORDS.press : KEY_WORDS.teach}
            </Button>
          </li>
        ))}
      </ul>
      <p class="quiet">{KEY_WORDS.inNotes}</p>
      <div class="sheet-buttons">
        <Button onPress={() => change(USUAL_KEYS)}>{KEY_WORDS.usual}</Button>
      </div>
    </section>
  );
}
