/** A profile as the road it will be: panels folded side by side, lanes lit, ceilings with teeth, lost double. Nothing moves on it. */
import type { DraftPhase } from '../draft.ts';
import { type Level, panelOf, type ProfilePanel } from '../profile-panels.ts';
import { bound } from '../words/measure.ts';
import { phaseName } from '../words/names.ts';
import { PROFILES } from '../words/profiles.ts';

export interface ProfileRoadProps {
  readonly phases: readonly DraftPhase[];
  /** In a list: no words on it, and no one hears it. */
  readonly isSmall?: boolean;
}

export function ProfileRoad({ phases, isSmall = false }: ProfileRoadProps) {
  const panels = phases.map(panelOf);
  const heard = panels.map(heardPanel).join('. ');
  return (
    <div
      class={isSmall ? 'profile-road profile-road-small' : 'profile-road'}
      role={isSmall ? undefined : 'img'}
      aria-label={isSmall ? undefined : heard}
      aria-hidden={isSmall}
    >
      {panels.map((panel) => (
        <div class="profile-panel" key={panel.id}>
          {!isSmall && <b class="profile-phase">{phaseName(panel.id)}</b>}
          <div class="profile-ground">
            <Ground panel={panel} isSmall={isSmall} />
          </div>
        </div>
      ))}
    </div>
  );
}

function Ground({ panel, isSmall }: { readonly panel: ProfilePanel; readonly isSmall: boolean }) {
  const { lane, ceiling, floor, lost } = panel;
  return (
    <>
      {ceiling !== null && <div class="ground-hot" style={between(lost, ceiling)} />}
      {lost !== null && <div class="ground-lost" style={between(null, lost)} />}
      {floor !== null && <div class="ground-cold" style={{ top: `${floor.topPc}%`, bottom: 0 }} />}
      {lane !== null && <div class="ground-lane" style={between(lane.high, lane.low)} />}
      {ceiling !== null && <div class="ground-ceiling" style={at(ceiling)} />}
      {lost !== null && <div class="ground-lost-line" style={at(lost)} />}
      {floor !== null && <div class="ground-floor" style={at(floor)} />}
      {!isSmall && <Labels panel={panel} />}
    </>
  );
}

function Labels({ panel: { lane, ceiling, floor, lost } }: { readonly panel: ProfilePanel }) {
  return (
    <>
      {lane !== null && (
        <span class="road-label road-label-lane" style={{ top: `${(lane.low.topPc + lane.high.topPc) / 2}%` }}>
          {PROFILES.band(bound(lane.low.valueC), bound(lane.high.valueC))}
        </span>
      )}
      {ceiling !== null && <Label level={ceiling} name={PROFILES.ceiling} side="over" />}
      {lost !== null && <Label level={lost} name={PROFILES.lost} side="under-right" />}
      {floor !== null && <Label level={floor} name={PROFILES.floor} side="under" />}
    </>
  );
}

function Label({
  level,
  name,
  side,
}: {
  readonly level: Level;
  readonly name: string;
  readonly side: 'over' | 'under' | 'under-right';
}) {
  return (
    <span class={`road-label road-label-${side}`} style={at(level)}>
      <i>{name}</i> {bound(level.valueC)}
    </span>
  );
}

function at({ topPc }: Level): { readonly top: string } {
  return { top: `${topPc}%` };
}

/** From one level down to another; null: from the panel's top. */
function between(upper: Level | null, lower: Level): { readonly top: string; readonly bottom: string } {
  return { top: `${upper?.topPc ?? 0}%`, bottom: `${100 - lower.topPc}%` };
}

function heardPanel({ id, lane, ceiling, floor, lost }: ProfilePanel): string {
  const band = lane === null ? '' : PROFILES.band(bound(lane.low.valueC), bound(lane.high.valueC));
  const bounds = [
    [PROFILES.ceiling, ceiling],
    [PROFILES.lost, lost],
    [PROFILES.floor, floor],
  ] as const;
  const said = bounds.flatMap(([name, level]) =>
    level === null ? [] : PROFILES.heardBound(name, bound(level.valueC)),
  );
  return PROFILES.heard(phaseName(id), band, said);
}
