/** The road of a run that is going, with the buttons that look along it: they come at a tap on the road, and go with the step back to now. */
import { atHand, OrMissing } from '../part.tsx';
import type { RoadModel } from '../road/model.ts';
import { ALL, FOLLOW, heldAt, spanOf } from '../road-look.ts';
import type { RoadLook } from '../road-look.ts';
import { Button } from './button.tsx';
import { RoadView } from './road-view.tsx';
import { BUTTONS } from '../words/buttons.ts';

const LookButtons = atHand((part) => part.LookButtons, OrMissing);
const RoadTable = atHand((part) => part.RoadTable);

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
          {BUTTONS.lookAlong}
        </Button>
      ) : (
        <LookButtons
          look={look}
          nowMs={nowMs}
          startedAtMs={startedAtMs}
          onLook={onLook}
          note={onNoteAt && { at: clockOf(heldMs), onPress: () => onNoteAt(heldMs) }}
        />
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
