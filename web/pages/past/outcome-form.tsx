/** The form in which the rested pieces are judged: large choices, each "not looked at" until somebody has looked. */
import { useRef, useState } from 'preact/hooks';
import type { Outcome } from '../../../server/core/record/card.ts';
import { Button } from '../../controls/button.tsx';
import { keep, kept } from '../../kept.ts';
import { CHOICE_FIELDS, readOutcome, SEEN_FIELDS, tickedOf, UNLOOKED, WORDS_MAX_CHARS } from '../../outcome.ts';
import type { ChoiceField, SeenField } from '../../outcome.ts';
import { JUDGING, OUTCOME_CHOICES, OUTCOME_FIELD, SEEN_CHOICES } from '../../words/outcome.ts';

export interface OutcomeFormProps {
  /** What was judged before, to be changed; null: nothing. */
  readonly outcome: Outcome | null;
  /** Why the last try was not kept. */
  readonly trouble: string | null;
  readonly onKeep: (outcome: Outcome, by: string | null) => void;
  readonly onLeave: () => void;
}

/** Longest name of a person, characters (`routes/card.ts`). */
const BY_MAX_CHARS = 80;
/** Who wrote last in this browser, as in the card's own form. */
const BY_KEPT = 'by';

export function OutcomeForm({ outcome, trouble, onKeep, onLeave }: OutcomeFormProps) {
  const form = useRef<HTMLFormElement>(null);
  const [isWanting, setWanting] = useState(false);
  const send = (event: Event): void => {
    event.preventDefault();
    const data = new FormData(form.current ?? undefined);
    const valueOf = (name: string): string => {
      const value = data.get(name);
      return typeof value === 'string' ? value : '';
    };
    const read = readOutcome(valueOf);
    setWanting(read === null);
    if (read === null) {
      form.current?.querySelector<HTMLInputElement>('[name=verdict]')?.focus();
      return;
    }
    const by = valueOf('by').trim();
    keep(BY_KEPT, by === '' ? null : by);
    onKeep(read, by === '' ? null : by);
  };
  return (
    <form class="outcome-form" ref={form} onSubmit={send} noValidate>
      {CHOICE_FIELDS.map((field) => (
        <Choices key={field} field={field} outcome={outcome} words={OUTCOME_CHOICES[field]} />
      ))}
      {SEEN_FIELDS.map((field) => (
        <Choices key={field} field={field} outcome={outcome} words={SEEN_CHOICES} />
      ))}
      <p class="outcome-finger">{JUDGING.finger}</p>
      <label class="outcome-line">
        {JUDGING.words}
        <textarea name="words" rows={2} maxLength={WORDS_MAX_CHARS} defaultValue={outcome?.words ?? ''} />
      </label>
      <label class="outcome-line">
        {JUDGING.by}
        <input
          type="text"
          name="by"
          defaultValue={kept(BY_KEPT, isText, '')}
          maxLength={BY_MAX_CHARS}
          autocomplete="off"
        />
      </label>
      <p class="quiet">{JUDGING.caution}</p>
      {isWanting && <p role="alert">{JUDGING.wanted}</p>}
      {trouble !== null && <p role="alert">{trouble}</p>}
      <div class="outcome-buttons">
        <button type="submit" class="button button-solid">
          <span class="button-word">{JUDGING.keep}</span>
        </button>
        <Button onPress={onLeave}>{JUDGING.leave}</Button>
      </div>
    </form>
  );
}

interface ChoicesProps {
  readonly field: ChoiceField | SeenField;
  readonly outcome: Outcome | null;
  readonly words: Readonly<Record<string, string>>;
}

/** A verdict has no "not looked at": it is what the form is for. */
function Choices({ field, outcome, words }: ChoicesProps) {
  const ticked = tickedOf(outcome, field);
  const all = [...Object.entries(words), ...(field === 'verdict' ? [] : [[UNLOOKED, JUDGING.unlooked] as const])];
  return (
    <fieldset class="outcome-choices">
      <legend>{OUTCOME_FIELD[field]}</legend>
      {all.map(([value, word]) => (
        <label key={value} class="outcome-choice">
          <input type="radio" name={field} value={value} defaultChecked={value === ticked} />
          <span>{word}</span>
        </label>
      ))}
    </fieldset>
  );
}

function isText(value: unknown): value is string {
  return typeof value === 'string';
}
