/** A note in one's own words, with its tags and, where another time is wanted, its time. */
import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import { NOTE_MAX_CHARS } from '../noted.ts';
import type { NoteChange } from '../noted.ts';
import { tagFault, tagLine, tagsOf, timesOf } from '../note-time.ts';
import type { NoteTime, Within } from '../note-time.ts';
import { NOTE_TIME } from '../words/notes.ts';
import { Button } from './button.tsx';
import type { Sign } from './icons.tsx';

export interface NoteFormProps {
  /** What the field for the words is called. */
  readonly label: string;
  /** What the button says that keeps it. */
  readonly keep: string;
  readonly sign?: Sign;
  readonly text?: string;
  readonly tags?: readonly string[];
  readonly time: NoteTime;
  readonly within: Within;
  /** Why it was not kept when that was tried. */
  readonly trouble: string | null;
  readonly onKeep: (note: NoteChange) => void;
  /** Further buttons. */
  readonly children?: ComponentChildren;
}

export function NoteForm(props: NoteFormProps) {
  const { time, within, trouble, onKeep } = props;
  const [text, setText] = useState(props.text ?? '');
  const [tags, setTags] = useState(tagLine(props.tags ?? []));
  const said = tagsOf(tags);
  const fault = tagFault(said);
  const keep = (): void => {
    const note = { ...timesOf(time, within.latestMs), text: text.trim() };
    if (note.text !== '' && fault === null) onKeep(said.length === 0 ? note : { ...note, tags: said });
  };
  const send = (event: Event): void => {
    event.preventDefault();
    keep();
  };
  return (
    <form class="own-words" onSubmit={send}>
      <label>
        {props.label}
        <input
          type="text"
          maxLength={NOTE_MAX_CHARS}
          value={text}
          autocomplete="off"
          onInput={(event) => setText(event.currentTarget.value)}
        />
      </label>
      <label class="own-tags">
        {NOTE_TIME.tags}
        <input
          type="text"
          maxLength={NOTE_MAX_CHARS}
          value={tags}
          autocomplete="off"
          onInput={(event) => setTags(event.currentTarget.value)}
        />
      </label>
      {(fault !== null || trouble !== null) && (
        <p role="alert">{fault === null ? trouble : NOTE_TIME.tagFault[fault]}</p>
      )}
      {/* Enter in a field sends a form of several fields only where it has a button that does. */}
      <input type="submit" hidden />
      <Button onPress={keep} look="solid" {...(props.sign === undefined ? {} : { sign: props.sign })}>
        {props.keep}
      </Button>
      {props.children}
    </form>
  );
}
