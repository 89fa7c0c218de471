/** Note it: the trade's acts as large tiles, likeliest first, and a line of one's own. One tap notes and closes. */
import { useState } from 'preact/hooks';
import type { Act } from '../../server/core/record/command.ts';
import type { Heading } from '../../server/core/record/profile.ts';
import { ACT_NAME, ACTS_BY_HEADING } from '../words/names.ts';
import { Button } from './button.tsx';
import { Sheet } from './sheet.tsx';

/** Longest note, characters (ours: a few lines of a run sheet). */
const NOTE_MAX_CHARS = 500;

export interface NoteSheetProps {
  readonly heading: Heading;
  readonly onAct: (act: Act) => void;
  readonly onText: (text: string) => void;
  readonly onClose: () => void;
}

export function NoteSheet({ heading, onAct, onText, onClose }: NoteSheetProps) {
  const [text, setText] = useState('');
  const send = (event: Event): void => {
    event.preventDefault();
    if (text.trim() !== '') onText(text.trim());
  };
  return (
    <Sheet title="What did you do?" onClose={onClose}>
      <div class="tiles">
        {ACTS_BY_HEADING[heading].map((act, i) => (
          <button type="button" class={i < 3 ? 'tile tile-likely' : 'tile'} key={act} onClick={() => onAct(act)}>
            {ACT_NAME[act]}
          </button>
        ))}
      </div>
      <form class="own-words" onSubmit={send}>
        <label>
          In your own words
          <input
            type="text"
            maxLength={NOTE_MAX_CHARS}
            value={text}
            autocomplete="off"
            onInput={(event) => setText(event.currentTarget.value)}
          />
        </label>
        <Button onPress={() => text.trim() !== '' && onText(text.trim())} sign="note" look="solid">
          Note it
        </Button>
      </form>
    </Sheet>
  );
}
