/** The road of a run that is going, with the buttons that look along it: they come at a tap on the road, and go with the step back to now. */
import type { ComponentChildren } from 'preact';
import { besidePart, fetchRoadTable } from '../part.tsx';
import type { RoadModel } from '../road/model.ts';
import { ALL, closer, FOLLOW, heldAt, LAST_MIN, lastMinutes, spanOf, wider } from '../road-look.ts';
import type { RoadLook } from '../road-look.ts';
import { lastWords, LOOKS } from '../words/looks.ts';
import { Button } from './button.tsx';
import { RoadView } from './road-view.tsx';

const RoadTable = besidePart(() => fetchRoadTable().then((part) => part.RoadTable));

export interface LiveRoadProps {
  readonly model: RoadModel;
  /** null: the road follows, and nobody asked for anything else. */
  readonly look: RoadLook | null;
  readonly clockOf: (atMs: number) => string;
  readonly onLook: (look: RoadLook | null) => void;
  /** Notes something of a moment; absent: not now. */
  readonly onNoteAt?: ((atMs: number) => void) | undefined;
}

export function LiveRoad({ model, look, clockOf, onLook, onNoteAt }: LiveRoadProps) {
  const { nowMs, startedAtMs } = model;
  const window = look ?? FOLLOW;
  // A held view stands around the moment that was tapped.
  const held = spanOf(window, nowMs, startedAtMs);
  const heldMs = Math.round(Math.min(nowMs, (held.fromMs + held.toMs) / 2));
  const tap = (atMs: number): void => onLook(look === null ? FOLLOW : heldAt(look, atMs, nowMs, startedAtMs));
  // There is nothing to follow any more: the whole of it, and the page of past runs to look along it.
  if (model.live === 'over') {
    const whole = { ...model, window: ALL };
    return (
      <div class="road-frame">
        <RoadView model={whole} />
        <RoadTable model={whole} view={spanOf(ALL, nowMs, startedAtMs)} clockOf={clockOf} />
      </div>
    );
  }
  return (
    <div class="road-frame">
      {look === null ? (
        <Button onPress={() => onLook(FOLLOW)} class="look-open">
          {LOOKS.open}
        </Button>
      ) : (
        <LookButtons look={look} nowMs={nowMs} startedAtMs={startedAtMs} onLook={onLook}>
          {look.kind === 'span' && onNoteAt !== undefined && (
            <Button onPress={() => onNoteAt(heldMs)} sign="note">
              {LOOKS.note(clockOf(heldMs))}
            </Button>
          )}
        </LookButtons>
      )}
      <RoadView
        model={{ ...model, window }}
        onMoment={tap}
        onFold={(fromMs, toMs) => onLook({ kind: 'span', fromMs, toMs })}
      />
      <RoadTable model={{ ...model, window }} view={spanOf(window, nowMs, startedAtMs)} clockOf={clockOf} />
    </div>
  );
}

interface LookButtonsProps {
  readonly look: RoadLook;
  readonly nowMs: number;
  readonly startedAtMs: number;
  readonly onLook: (look: RoadLook | null) => void;
  /** Further buttons. */
  readonly children?: ComponentChildren;
}

function LookButtons({ look, nowMs, startedAtMs, onLook, children }: LookButtonsProps) {
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
      {children}
    </div>
  );
}
