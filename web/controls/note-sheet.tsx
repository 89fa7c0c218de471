/**
 * Note it: the trade's acts as large tiles, likeliest first, and a line of one's own. One tap notes and closes. What is noted of another
 * time than now, an act too, is a note: the engine was told nothing then.
 */
import type { RefObject } from 'preact';
import { useLayoutEffect, useRef, useState } from 'preact/hooks';
import type { Act } from '../../server/core/record/command.ts';
import type { Heading } from '../../server/core/record/profile.ts';
import type { Mark } from '../../server/core/show/view.ts';
import { notedOf } from '../noted.ts';
import type { NoteChange, Noted } from '../noted.ts';
import { LATEST, timesOf } from '../note-time.ts';
import type { Within } from '../note-time.ts';
import { useKeeping } from '../use-keeping.ts';
import { useKeys } from '../use-keys.ts';
import { BUTTONS } from '../words/buttons.ts';
import { ACT_NAME } from '../words/names.ts';
import { ACTS_BY_HEADING } from '../words/act-tiles.ts';
import { NOTE_TIME } from '../words/notes.ts';
import { Button } from './button.tsx';
import { SIGN } from './icons.tsx';
import { NotedList } from './noted-list.tsx';
import { NoteForm } from './note-form.tsx';
import { NoteWhen } from './note-when.tsx';
import { Sheet } from './sheet.tsx';
import { HEADINGS } from '../words/headings.ts';

export interface NoteSheetProps {
  readonly heading: Heading;
  /** What to note, where that is not now: a moment, or the beginning and the end of a span. */
  readonly at: Pick<NoteChange, 'atMs' | 'untilMs'> | null;
  readonly within: Within;
  /** The latest of `within` is now. */
  readonly isGoing: boolean;
  /** Absent: acts are noted in words only, for the run is over. */
  readonly onAct?: ((act: Act) => void) | undefined;
  /** Gives why it was not kept, and the sheet stays with all that was typed; null: it was. */
  readonly onNote: (note: NoteChange) => Promise<string | null>;
  readonly onClose: () => void;
  /** What stands in the run so far; absent: what was noted is told elsewhere. */
  readonly marks?: readonly Mark[];
  readonly clockOf: (atMs: number) => string;
  readonly onChange?: (noted: Noted, change: NoteChange) => Promise<string | null>;
}

export function NoteSheet(props: NoteSheetProps) {
  const { heading, at, within, isGoing, onAct, onClose, marks, clockOf, onChange } = props;
  const [trouble, note] = useKeeping(props.onNote);
  const [time, setTime] = useState(() =>
    at === null
      ? LATEST
      : { fromMs: at.atMs, isSpan: at.untilMs !== undefined, untilMs: at.untilMs ?? (isGoing ? null : at.atMs) },
  );
  const [isTiming, setTiming] = useState(at !== null);
  const tiles = useRef<HTMLDivElement>(null);
  useTileKeys(tiles);
  const isNow = isGoing && time.fromMs === null && !time.isSpan;
  const take = (act: Act): void => {
    if (isNow && onAct !== undefined) onAct(act);
    else note({ ...timesOf(time, within.latestMs), text: ACT_NAME[act] });
  };
  return (
    <Sheet title={HEADINGS.whatDone} onClose={onClose}>
      {isTiming && <NoteWhen time={time} within={within} isGoing={isGoing} clockOf={clockOf} onChange={setTime} />}
      <div class="tiles" ref={tiles}>
        {ACTS_BY_HEADING[heading].map((act, i) => (
          <button
            type="button"
            class={i < 3 ? 'tile tile-likely' : 'tile'}
            key={act}
            autofocus={i === 0}
            onClick={() => take(act)}
          >
            {ACT_NAME[act]}
          </button>
        ))}
      </div>
      <NoteForm
        label={HEADINGS.ownWords}
        keep={BUTTONS.noteIt}
        sign={SIGN.note}
        time={time}
        within={within}
        trouble={trouble}
        onKeep={note}
      >
        {!isTiming && <Button onPress={() => setTiming(true)}>{NOTE_TIME.anotherTime}</Button>}
      </NoteForm>
      {marks !== undefined && onChange !== undefined && (
        <NotedList noted={notedOf(marks)} within={within} clockOf={clockOf} onChange={onChange} />
      )}
    </Sheet>
  );
}

/** A pedal walks the tiles with the Note key and takes one with the Seen key; 1 to 9 take the first nine. */
function useTileKeys(tiles: RefObject<HTMLDivElement | null>): void {
  const all = (): HTMLElement[] => [...(tiles.current?.querySelectorAll('button') ?? [])];
  const at = (): number => all().findIndex((tile) => tile === document.activeElement);
  useKeys({ note: () => all()[(at() + 1) % all().length]?.focus(), seen: () => all()[at()]?.click() }, true);
  // Not a frame later: the sheet is in sight by then, and its first key is often the next one pressed.
  useLayoutEffect(() => {
    const press = (event: KeyboardEvent): void => {
      const isTyping = event.target instanceof HTMLInputElement;
      if (!isTyping && !event.repeat && /^[1-9]$/.test(event.key)) all()[Number(event.key) - 1]?.click();
    };
    window.addEventListener('keydown', press);
    return () => window.removeEventListener('keydown', press);
  }, []);
}
