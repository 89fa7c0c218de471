/** A line in a person's own words, with what is to be done with it. */
import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import { NOTE_MAX_CHARS } from '../noted.ts';
import { Button } from './button.tsx';
import type { Sign } from './icons.tsx';

export interface OwnWordsProps {
  readonly label: string;
  /** What stands there at first. */
  readonly text?: string;
  readonly button: string;
  readonly sign?: Sign;
  /** Gets the words trimmed, never none. */
  readonly onKeep: (text: string) => void;
  /** Further buttons. */
  readonly children?: ComponentChildren;
}

export function OwnWords({ label, text: first = '', button, sign, onKeep, children }: OwnWordsProps) {
  const [text, setText] = useState(first);
  const keep = (): void => {
    if (text.trim() !== '') onKeep(text.trim());
  };
  const send = (event: Event): void => {
    event.preventDefault();
    keep();
  };
  return (
    <form class="own-words" onSubmit={send}>
      <label>
        {label}
        <input
          type="text"
          maxLength={NOTE_MAX_CHARS}
          value={text}
          autocomplete="off"
          onInput={(event) => setText(event.currentTarget.value)}
        />
      </label>
      <Button onPress={keep} look="solid" {...(sign === undefined ? {} : { sign })}>
        {button}
      </Button>
      {children}
    </form>
  );
}
