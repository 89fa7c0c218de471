/** What was noted in a stored run: to be read, changed and struck out, and the sheet that adds to it. */
import type { Heading } from '../../../server/core/record/profile.ts';
import type { View } from '../../../server/core/show/view.ts';
import type { NoteInfo } from '../../../server/core/show/wire.ts';
import { NoteSheet } from '../../controls/note-sheet.tsx';
import { NotedList } from '../../controls/noted-list.tsx';
import { notedOf, struckOf } from '../../noted.ts';
import type { NoteChange } from '../../noted.ts';
import type { Within } from '../../note-time.ts';
import { postNote } from '../../fetched.ts';
import type { NewNote, OpenedRun } from '../../fetched.ts';

export interface NotesProps {
  readonly run: OpenedRun;
  readonly view: View;
  readonly within: Within;
  readonly clockOf: (atMs: number) => string;
  /** What is to be noted of now: the sheet for it stands open. */
  readonly at: Pick<NoteChange, 'atMs' | 'untilMs'> | null;
  /** Of the phase at that moment. */
  readonly heading: Heading;
  readonly onDone: () => void;
  /** As it is kept. */
  readonly onNoted: (note: NoteInfo) => void;
}

export function NotesOf({ run, view, within, clockOf, at, heading, onDone, onNoted }: NotesProps) {
  const { info, notes, events } = run;
  /** Gives why it was not kept; null: it was. */
  const write = async (note: NewNote): Promise<string | null> => {
    const answer = await postNote(info.run, note);
    if (!answer.ok) return answer.why;
    onNoted(answer.value);
    return null;
  };
  const writeAndClose = async (note: NoteChange): Promise<string | null> => {
    const trouble = await write(note);
    if (trouble === null) onDone();
    return trouble;
  };
  return (
    <div class="log">
      <NotedList
        title="h2"
        noted={notedOf(view.marks, notes, events)}
        struck={struckOf(notes, events)}
        within={within}
        clockOf={clockOf}
        onChange={({ id }, note) => write({ ...note, replaces: id })}
      />
      {at !== null && (
        <NoteSheet
          heading={heading}
          at={at}
          within={within}
          isGoing={false}
          clockOf={clockOf}
          onNote={writeAndClose}
          onClose={onDone}
        />
      )}
    </div>
  );
}
