/** The form of a card: every field a line to type in, read as what it means when it is kept. */
import { useRef, useState } from 'preact/hooks';
import { RUN_NAME_MAX_CHARS } from '../../server/core/show/listed.ts';
import type { Card } from '../../server/core/record/card.ts';
import { readTyping, TYPED, typedOf } from '../cards.ts';
import type { TypedField, Typing } from '../cards.ts';
import { keep, kept } from '../kept.ts';
import { CARD, fieldName, slipWords } from '../words/cards.ts';
import { Button } from './button.tsx';

export interface CardFormProps {
  readonly card: Card;
  /** Gives why it was not kept; null: it was. */
  readonly onWrite: (change: Partial<Card>, by: string | null) => Promise<string | null>;
  readonly onLeave: () => void;
}

/** Longest free words, characters (`core/record/card.ts`). */
const WORDS_MAX_CHARS = 2_000;
const BY_MAX_CHARS = 80;
/** Who wrote last in this browser: mostly the same person again. */
const BY_KEPT = 'by';
const NUMERIC: ReadonlySet<TypedField> = new Set(['kg', 'roomC', 'roomHumidity']);

export function CardForm({ card, onWrite, onLeave }: CardFormProps) {
  const form = useRef<HTMLFormElement>(null);
  const [trouble, setTrouble] = useState<string | null>(null);
  const send = async (): Promise<void> => {
    const data = new FormData(form.current ?? undefined);
    const textOf = (name: string): string => {
      const text = data.get(name);
      return typeof text === 'string' ? text : '';
    };
    const typing = Object.fromEntries(TYPED.map((field) => [field, textOf(field)])) as Typing;
    const read = readTyping(typing, card);
    if (!read.ok) {
      setTrouble(slipWords(read.field, read.rule));
      form.current?.querySelector<HTMLInputElement>(`[name=${read.field}]`)?.focus();
      return;
    }
    if (Object.keys(read.change).length === 0) return onLeave();
    const by = textOf('by').trim();
    keep(BY_KEPT, by === '' ? null : by);
    setTrouble(await onWrite(read.change, by === '' ? null : by));
  };
  return (
    <form
      class="card-form"
      ref={form}
      onSubmit={(event) => {
        event.preventDefault();
        void send();
      }}
    >
      {TYPED.map((field) => (
        <label key={field}>
          {fieldName(field)}
          <input
            type="text"
            name={field}
            defaultValue={typedOf(field, card)}
            inputMode={NUMERIC.has(field) ? 'decimal' : 'text'}
            maxLength={field === 'allergens' || field === 'tags' ? WORDS_MAX_CHARS : RUN_NAME_MAX_CHARS}
            autocomplete="off"
          />
        </label>
      ))}
      <label>
        {CARD.by}
        <input
          type="text"
          name="by"
          defaultValue={kept(BY_KEPT, isText, '')}
          maxLength={BY_MAX_CHARS}
          autocomplete="off"
        />
      </label>
      {trouble !== null && <p role="alert">{trouble}</p>}
      <div class="card-buttons">
        <button type="submit" class="button button-solid">
          <span class="button-word">{CARD.keep}</span>
        </button>
        <Button onPress={onLeave}>{CARD.leave}</Button>
      </div>
    </form>
  );
}

function isText(value: unknown): value is string {
  return typeof value === 'string';
}
