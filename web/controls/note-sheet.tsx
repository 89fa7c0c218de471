/** Note it: the trade's acts as large tiles, likeliest first, and a line of one's own. One tap notes and closes. */
import type { RefObject } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import type { Act } from '../../server/core/record/command.ts';
import type { Heading } from '../../server/core/record/profile.ts';
import { ACT_NAME, ACTS_BY_HEADING } from '../words/names.ts';
import type { Noted } from '../noted.ts';
import { useKeys } from '../use-keys.ts';
import { NotedList } from './noted-list.tsx';
import { OwnWords } from './own-words.tsx';
import { Sheet } from './sheet.tsx';
import { BUTTONS, HEADINGS } from '../words/buttons.ts';

export interface NoteSheetProps {
  readonly heading: Heading;
  readonly onAct: (act: Act) => void;
  readonly onText: (text: string) => void;
  readonly onClose: () => void;
  /** What was noted so far, newest first. */
  readonly noted: readonly Noted[];
  readonly clockOf: (atMs: number) => string;
  readonly onChange: (noted: Noted, text: string) => void;
}

export function NoteSheet({ heading, onAct, onText, onClose, noted, clockOf, onChange }: NoteSheetProps) {
  const tiles = useRef<HTMLDivElement>(null);
  useTileKeys(tiles);
  return (
    <Sheet title={HEADINGS.whatDone} onClose={onClose}>
      <div class="tiles" ref={tiles}>
        {ACTS_BY_HEADING[heading].map((act, i) => (
          <button
            type="button"
            class={i < 3 ? 'tile tile-likely' : 'tile'}
            key={act}
            autofocus={i === 0}
            onClick={() => onAct(act)}
          >
            {ACT_NAME[act]}
          </button>
        ))}
      </div>
      <OwnWords label={HEADINGS.ownWords} button={BUTTONS.noteIt} sign="note" onKeep={onText} />
      <NotedList noted={noted} clockOf={clockOf} onChange={onChange} />
    </Sheet>
  );
}

/** A pedal walks the tiles with the Note key and takes one with the Seen key; 1 to 9 take the first nine. */
function useTileKeys(tiles: RefObject<HTMLDivElement | null>): void {
  const all = (): HTMLElement[] => [...(tiles.current?.querySelectorAll('button') ?? [])];
  const at = (): number => all().findIndex((tile) => tile === document.activeElement);
  useKeys({ note: () => all()[(at() + 1) % all().length]?.focus(), seen: () => all()[at()]?.click() }, true);
  useEffect(() => {
    const press = (event: KeyboardEvent): void => {
      const isTyping = event.target instanceof HTMLInputElement;
      if (!isTyping && !event.repeat && /^[1-9]$/.test(event.key)) all()[Number(event.key) - 1]?.click();
    };
    window.addEventListener('keydown', press);
    return () => window.removeEventListener('keydown', press);
  }, []);
}
