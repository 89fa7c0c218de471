/** One thing to be typed, with its name over it, where it comes from under it, and what is wrong with it said there and read out with it. */
import { useId } from 'preact/hooks';

export interface FieldProps {
  readonly name: string;
  readonly value: string;
  readonly onType: (text: string) => void;
  /** number: a keyboard of figures where the screen has one. */
  readonly kind?: 'words' | 'number';
  readonly wrong?: string | null;
  readonly hint?: string | null;
  readonly choices?: readonly string[];
}

export function Field({ name, value, onType, kind = 'words', wrong = null, hint = null, choices = [] }: FieldProps) {
  const id = useId();
  const words = wrong === null ? hint : asSentence(wrong);
  return (
    <div class={wrong === null ? 'field' : 'field field-wrong'}>
      <label for={id}>{name}</label>
      <input
        id={id}
        value={value}
        inputMode={kind === 'number' ? 'decimal' : 'text'}
        autocomplete="off"
        list={choices.length > 0 ? `${id}-choices` : undefined}
        aria-invalid={wrong !== null}
        aria-describedby={words === null ? undefined : `${id}-words`}
        onInput={(event) => onType(event.currentTarget.value)}
      />
      {choices.length > 0 && (
        <datalist id={`${id}-choices`}>
          {choices.map((choice) => (
            <option key={choice} value={choice} />
          ))}
        </datalist>
      )}
      {words !== null && (
        <p id={`${id}-words`} class="field-words" role={wrong === null ? undefined : 'alert'}>
          {words}
        </p>
      )}
    </div>
  );
}

/** Rules begin small: elsewhere they stand behind their place. */
function asSentence(rule: string): string {
  return rule.charAt(0).toUpperCase() + rule.slice(1);
}
