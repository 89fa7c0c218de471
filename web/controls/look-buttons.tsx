/** The buttons that look along the road of a run that is going. */
import { ALL } from '../road-look.ts';
import type { RoadLook } from '../road-look.ts';
import { closer, LAST_MIN, lastMinutes, wider } from '../road-zoom.ts';
import { lastWords, LOOKS } from '../words/looks.ts';
import { Button } from './button.tsx';
import { SIGN } from './icons.tsx';

export interface LookButtonsProps {
  readonly look: RoadLook;
  readonly nowMs: number;
  readonly startedAtMs: number;
  readonly onLook: (look: RoadLook | null) => void;
  /** Notes something of the moment that a held view stands around; undefined: not now. */
  readonly note: { readonly at: string; readonly onPress: () => void } | undefined;
}

export function LookButtons({ look, nowMs, startedAtMs, onLook, note }: LookButtonsProps) {
  return (
    <div class="looks" role="group" aria-label={LOOKS.title}>
      <Button onPress={() => onLook(null)} look="solid">
        {look.kind === 'follow' ? LOOKS.follow : LOOKS.back}
      </Button>
      {LAST_MIN.map((minutes) => (
        <Button
          key={minutes}
          onPress={() => onLook(lastMinutes(minutes))}
          pressed={look.kind === 'last' && look.backMs === minutes * 60_000}
        >
          {lastWords(minutes)}
        </Button>
      ))}
      <Button onPress={() => onLook(ALL)} pressed={look.kind === 'all'}>
        {LOOKS.all}
      </Button>
      <Button onPress={() => onLook(closer(look, nowMs, startedAtMs))}>{LOOKS.closer}</Button>
      <Button onPress={() => onLook(wider(look, nowMs, startedAtMs))}>{LOOKS.wider}</Button>
      {look.kind === 'span' && note !== undefined && (
        <Button onPress={note.onPress} sign={SIGN.note}>
          {LOOKS.note(note.at)}
        </Button>
      )}
    </div>
  );
}
