/** What was noted, newest first; each can be changed or struck out. Nothing is rewritten: what it said before stays on record. */
import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import type { NoteChange, Noted } from '../noted.ts';
import { timeOf } from '../note-time.ts';
import type { Within } from '../note-time.ts';
import { useKeeping } from '../use-keeping.ts';
import { useStep } from '../use-step.ts';
import { NOTE_TIME } from '../words/notes.ts';
import { Button } from './button.tsx';
import { NoteForm } from './note-form.tsx';
import { NoteWhen } from './note-when.tsx';
import { NOTED } from '../words/noted.ts';

export interface NotedListProps {
  readonly noted: readonly Noted[];
  /** What was struck out; absent: nobody asks here. */
  readonly struck?: readonly Noted[];
  readonly within: Within;
  readonly clockOf: (atMs: number) => string;
  /** Empty text strikes it out. Gives why it was not kept; null: it was. */
  readonly onChange: (noted: Noted, change: NoteChange) => Promise<string | null>;
  /** Level of its title: a sheet has one of its own above it. */
  readonly title?: 'h2' | 'h3';
}

export function NotedList({ noted, struck = [], within, clockOf, onChange, title: Title = 'h3' }: NotedListProps) {
  const [changing, setChanging] = useState<string | null>(null);
  const change = async (what: Noted, note: NoteChange): Promise<string | null> => {
    const trouble = isSame(what, note) ? null : await onChange(what, note);
    if (trouble === null) setChanging((id) => (id === what.id ? null : id));
    return trouble;
  };
  return (
    <section class="sheet-part noted-list">
      <Title>{NOTED.soFar}</Title>
      {noted.length === 0 && <p>{NOTED.none}</p>}
      <ul>
        {noted.map((one) => (
          <Item key={one.id} isChanging={changing === one.id}>
            <span class="noted-at">{timeWords(one, clockOf)}</span>
            {changing === one.id ? (
              <ChangeForm
                noted={one}
                within={within}
                clockOf={clockOf}
                onKeep={(note) => change(one, note)}
                onLeave={() => setChanging(null)}
              />
            ) : (
              <>
                <Words noted={one} />
                <Button
                  onPress={() => setChanging(one.id)}
                  class="button-low"
                  label={`${NOTED.change}: ${one.text}, ${timeWords(one, clockOf)}`}
                >
                  {NOTED.change}
                </Button>
              </>
            )}
          </Item>
        ))}
        {struck.map((one) => (
          <li key={one.id}>
            <span class="noted-at">{clockOf(one.atMs)}</span>
            <span class="said-by-person">
              <s>{one.text}</s>
            </span>
            <span class="quiet">{NOTE_TIME.struck}</span>
          </li>
        ))}
      </ul>
    </section>
  );
}

function Item({ isChanging, children }: { readonly isChanging: boolean; readonly children: ComponentChildren }) {
  return <li ref={useStep<HTMLLIElement>(isChanging ? 'changing' : 'noted')}>{children}</li>;
}

function Words({ noted }: { readonly noted: Noted }) {
  return (
    <span class="said-by-person">
      {noted.text}
      {noted.tags?.map((tag) => (
        <span class="tag" key={tag}>
          {tag}
        </span>
      ))}
      {noted.earlier.map((text, i) => (
        <s key={i}>
          {' '}
          {NOTED.was} {text}
        </s>
      ))}
    </span>
  );
}

/** A clock time, or two. */
export function timeWords(
  { atMs, untilMs }: Pick<Noted, 'atMs' | 'untilMs'>,
  clockOf: (atMs: number) => string,
): string {
  return untilMs === undefined ? clockOf(atMs) : NOTE_TIME.between(clockOf(atMs), clockOf(untilMs));
}

function isSame(noted: Noted, { atMs, untilMs, tags = [], text }: NoteChange): boolean {
  const isSameTime = noted.atMs === atMs && noted.untilMs === untilMs;
  return isSameTime && noted.text === text && (noted.tags ?? []).join('\n') === tags.join('\n');
}

interface ChangeFormProps {
  readonly noted: Noted;
  readonly within: Within;
  readonly clockOf: (atMs: number) => string;
  readonly onKeep: (note: NoteChange) => Promise<string | null>;
  readonly onLeave: () => void;
}

function ChangeForm({ noted, within, clockOf, onKeep, onLeave }: ChangeFormProps) {
  const [time, setTime] = useState(timeOf(noted));
  const [trouble, keep] = useKeeping(onKeep);
  return (
    <div class="note-change">
      <NoteForm
        label={NOTED.change}
        keep={NOTED.keep}
        text={noted.text}
        tags={noted.tags ?? []}
        time={time}
        within={within}
        trouble={trouble}
        onKeep={keep}
      >
        <Button onPress={() => keep({ atMs: noted.atMs, text: '' })}>{NOTED.strike}</Button>
        <Button onPress={onLeave}>{NOTED.leave}</Button>
      </NoteForm>
      <NoteWhen time={time} within={within} isGoing={false} clockOf={clockOf} onChange={setTime} />
    </div>
  );
}
