/** Two logs of one trace beside each other: each folded and reckoned the same way, and what there is to say of their curves. Pure. */
import type { Account } from '../server/core/show/account.ts';
import { accountOfColumns } from '../server/core/show/account-curve.ts';
import { foldEvents, openView } from '../server/core/show/view.ts';
import type { PastAlarm, View } from '../server/core/show/view.ts';
import type { CueName, RunEvent } from '../server/core/record/event.ts';
import type { RunInfo, Tile } from '../server/core/show/wire.ts';

export interface Side {
  readonly info: RunInfo;
  readonly engine: number;
  readonly view: View;
  readonly account: Account;
  /** In the order they were raised. */
  readonly alarms: readonly PastAlarm[];
  readonly cues: readonly CueName[];
  readonly tiles: readonly Tile[];
}

export interface Told {
  readonly info: RunInfo;
  readonly engine: number;
  readonly events: readonly RunEvent[];
  readonly tiles: readonly Tile[];
}

export function sideOf({ info, engine, events, tiles }: Told, endMs: number): Side {
  const view = foldEvents(openView(info), events);
  return {
    info,
    engine,
    view,
    account: accountOfColumns(info.profile, view, tiles, endMs),
    alarms: view.pastAlarms.toSorted((a, b) => a.raisedAtMs - b.raisedAtMs),
    cues: events.flatMap((event) => (event.kind === 'cue' ? [event.cue] : [])),
    tiles,
  };
}

/** Where two curves of estimates are furthest apart, and by how much, °C; null where they have no column in common. */
export function furthestApart(
  first: readonly Tile[],
  second: readonly Tile[],
): { readonly atMs: number; readonly byC: number } | null {
  const others = new Map(second.map(([atMs, , , estimateC]) => [atMs, estimateC]));
  let furthest: { atMs: number; byC: number } | null = null;
  for (const [atMs, , , estimateC] of first) {
    const otherC = others.get(atMs) ?? null;
    if (estimateC === null || otherC === null) continue;
    const byC = Math.abs(estimateC - otherC);
    if (furthest === null || byC > furthest.byC) furthest = { atMs, byC };
  }
  return furthest;
}
