/** What was noted in a stored run, to be read, changed and struck out. */
import { useState } from 'preact/hooks';
import type { View } from '../../../server/core/show/view.ts';
import { NotedList } from '../../controls/noted-list.tsx';
import { notedOf } from '../../noted.ts';
import type { Noted } from '../../noted.ts';
import { postNote } from '../../post.ts';
import type { OpenedRun } from '../../post.ts';

export interface NotesProps {
  readonly run: OpenedRun;
  readonly view: View;
  readonly clockOf: (atMs: number) => string;
  readonly onChanged: () => void;
}

export function NotesOf({ run, view, clockOf, onChanged }: NotesProps) {
  const { info, notes, events } = run;
  const [trouble, setTrouble] = useState<string | null>(null);
  const change = async ({ id, atMs }: Noted, text: string): Promise<void> => {
    const answer = await postNote(info.run, { atMs, text, replaces: id });
    setTrouble(answer.ok ? null : answer.why);
    if (answer.ok) onChanged();
  };
  return (
    <div class="log">
      {trouble !== null && <p role="alert">{trouble}</p>}
      <NotedList
        title="h2"
        noted={notedOf(view.marks, notes, events)}
        clockOf={clockOf}
        onChange={(noted, text) => void change(noted, text)}
      />
    </div>
  );
}
