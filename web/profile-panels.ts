/** The road of a profile before anybody has gone along it: one panel for each phase, each at its own scale. Knows levels, no pixels. */
import type { DraftPhase, Typed } from './draft.ts';

/** A level in a panel: the value, and how far down from the panel's top it lies, per cent. */
export interface Level {
  readonly valueC: number;
  readonly topPc: number;
}

/** null: not given, or no number yet. */
export interface ProfilePanel {
  readonly id: string;
  readonly lane: { readonly low: Level; readonly high: Level } | null;
  readonly ceiling: Level | null;
  readonly floor: Level | null;
  readonly lost: Level | null;
}

/** Room over the highest and under the lowest level: a share of what lies between, and no less than this, °C (ours). */
const ROOM_SHARE = 0.3;
const ROOM_LEAST_C = 0.5;

export function panelOf({ id, bandC, ceilingC, floorC, lostAboveC }: DraftPhase): ProfilePanel {
  const numbers = [...bandC, ceilingC, floorC, lostAboveC].flatMap((value) => numberOf(value) ?? []);
  const [least, most] = [Math.min(...numbers), Math.max(...numbers)];
  const room = Math.max(ROOM_LEAST_C, (most - least) * ROOM_SHARE);
  const levelOf = (value: Typed | undefined): Level | null => {
    const valueC = numberOf(value);
    if (valueC === null) return null;
    return { valueC, topPc: ((most + room - valueC) / (most - least + 2 * room)) * 100 };
  };
  const [low, high] = [levelOf(bandC[0]), levelOf(bandC[1])];
  const hasLane = low !== null && high !== null && low.valueC < high.valueC;
  return {
    id,
    lane: hasLane ? { low, high } : null,
    ceiling: levelOf(ceilingC),
    floor: levelOf(floorC),
    lost: levelOf(lostAboveC),
  };
}

function numberOf(value: Typed | undefined): number | null {
  return typeof value === 'number' && Number.isFinite(value) ? value : null;
}
