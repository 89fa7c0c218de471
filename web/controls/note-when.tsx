/** When a note is about: said in words, moved by buttons, so that no finger needs to drag and every key gets there. */
import { moved, NOTE_STEPS_MS, timesOf } from '../note-time.ts';
import type { NoteTime, Within } from '../note-time.ts';
import { NOTE_TIME } from '../words/notes.ts';
import { Button } from './button.tsx';

export interface NoteWhenProps {
  readonly time: NoteTime;
  readonly within: Within;
  /** The latest is now, and moves on. */
  readonly isGoing: boolean;
  readonly clockOf: (atMs: number) => string;
  readonly onChange: (time: NoteTime) => void;
}

export function NoteWhen(props: NoteWhenProps) {
  const { time, onChange } = props;
  return (
    <section class="note-when" role="group" aria-label={NOTE_TIME.title}>
      <p aria-live="polite">{whenWords(props)}</p>
      <Button onPress={() => onChange({ ...time, isSpan: !time.isSpan })} class="button-low">
        {time.isSpan ? NOTE_TIME.oneMoment : NOTE_TIME.overSpan}
      </Button>
      <EndButtons {...props} end="from" name={NOTE_TIME.from} />
      {time.isSpan && <EndButtons {...props} end="until" name={NOTE_TIME.until} />}
    </section>
  );
}

interface EndButtonsProps extends NoteWhenProps {
  readonly end: 'from' | 'until';
  readonly name: string;
}

function EndButtons({ time, within, onChange, end, name }: EndButtonsProps) {
  return (
    <div class="note-steps">
      <span>{name}</span>
      {NOTE_STEPS_MS.map((byMs) => (
        <Button
          key={byMs}
          onPress={() => onChange(moved(time, end, byMs, within))}
          class="button-low"
          label={NOTE_TIME.stepOf(name, NOTE_TIME.step(byMs))}
        >
          {NOTE_TIME.shortStep(byMs)}
        </Button>
      ))}
    </div>
  );
}

function whenWords({ time, within, isGoing, clockOf }: NoteWhenProps): string {
  const { atMs, untilMs } = timesOf(time, within.latestMs);
  const isNow = (endMs: number | null): boolean => isGoing && endMs === null;
  const endWords = (endMs: number | null, atEndMs: number): string => (isNow(endMs) ? NOTE_TIME.now : clockOf(atEndMs));
  if (untilMs === undefined) return isNow(time.fromMs) ? NOTE_TIME.atNow : NOTE_TIME.at(clockOf(atMs));
  return NOTE_TIME.span(endWords(time.fromMs, atMs), endWords(time.untilMs, untilMs));
}
