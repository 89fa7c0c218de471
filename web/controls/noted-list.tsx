/** What was noted, newest first; each can be changed or struck out. Nothing is rewritten: what it said before stays on record. */
import { useState } from 'preact/hooks';
import type { Noted } from '../noted.ts';
import { NOTES } from '../words/hands.ts';
import { Button } from './button.tsx';
import { OwnWords } from './own-words.tsx';

export interface NotedListProps {
  readonly noted: readonly Noted[];
  readonly clockOf: (atMs: number) => string;
  /** Empty text strikes it out. Absent: it can only be read. */
  readonly onChange?: ((noted: Noted, text: string) => void) | undefined;
  /** Level of its title: a sheet has one of its own above it. */
  readonly title?: 'h2' | 'h3';
}

export function NotedList({ noted, clockOf, onChange, title: Title = 'h3' }: NotedListProps) {
  const [changing, setChanging] = useState<string | null>(null);
  const change = (what: Noted, text: string): void => {
    setChanging(null);
    if (text !== what.text) onChange?.(what, text);
  };
  return (
    <section class="sheet-part noted-list">
      <Title>{NOTES.soFar}</Title>
      {noted.length === 0 && <p>{NOTES.none}</p>}
      <ul>
        {noted.map((one) => (
          <li key={one.id}>
            <span class="noted-at">{clockOf(one.atMs)}</span>
            {changing === one.id ? (
              <ChangeForm noted={one} onKeep={(text) => change(one, text)} onLeave={() => setChanging(null)} />
            ) : (
              <>
                <span class="said-by-person">
                  {one.text}
                  {one.earlier.map((text) => (
                    <s key={text}>
                      {' '}
                      {NOTES.was} {text}
                    </s>
                  ))}
                </span>
                {onChange !== undefined && (
                  <Button
                    onPress={() => setChanging(one.id)}
                    class="button-low"
                    label={`${NOTES.change}: ${one.text}, ${clockOf(one.atMs)}`}
                  >
                    {NOTES.change}
                  </Button>
                )}
              </>
            )}
          </li>
        ))}
      </ul>
    </section>
  );
}

interface ChangeFormProps {
  readonly noted: Noted;
  readonly onKeep: (text: string) => void;
  readonly onLeave: () => void;
}

function ChangeForm({ noted, onKeep, onLeave }: ChangeFormProps) {
  return (
    <OwnWords label={NOTES.change} text={noted.text} button={NOTES.keep} onKeep={onKeep}>
      <Button onPress={() => onKeep('')}>{NOTES.strike}</Button>
      <Button onPress={onLeave}>{NOTES.leave}</Button>
    </OwnWords>
  );
}
