/** The numbers of a profile and where each comes from, phase by phase. To be read, not changed. */
import type { Phase, Profile } from '../../server/core/record/profile.ts';
import { S_PER_MIN, bound } from '../words/measure.ts';
import { numberName } from '../words/number-names.ts';
import { phaseName } from '../words/names.ts';
import { unitSign } from '../words/manner.ts';
import { PROFILE, PROFILES } from '../words/profiles.ts';

export function ProfileNumbers({ profile }: { readonly profile: Profile }) {
  return (
    <section class="profile-numbers">
      <p>{profile.source}</p>
      {profile.phases.map((phase) => (
        <div key={phase.id}>
          <h2>
            {phaseName(phase.id)}, {PROFILE.headings[phase.heading]}
          </h2>
          {phase.cue !== undefined && <p class="profile-cue">{phase.cue}</p>}
          <dl>
            {numbersOf(phase).map(([key, value]) => {
              const path = `phases.${phase.id}.${key}`;
              return (
                <div key={key}>
                  <dt>{numberName(path).split(', ').at(-1)}</dt>
                  <dd>
                    <b>{value}</b> {profile.sources?.[path] ?? ''}
                  </dd>
                </div>
              );
            })}
          </dl>
        </div>
      ))}
    </section>
  );
}

function numbersOf({ bandC, ceilingC, floorC, lostAboveC, holdS }: Phase): (readonly [key: string, value: string])[] {
  const degrees = (valueC: number): string => `${bound(valueC)} ${unitSign()}`;
  return [
    ['bandC', `${PROFILES.band(bound(bandC[0]), bound(bandC[1]))} ${unitSign()}`],
    ...(ceilingC === undefined ? [] : [['ceilingC', degrees(ceilingC)] as const]),
    ...(floorC === undefined ? [] : [['floorC', degrees(floorC)] as const]),
    ...(lostAboveC === undefined ? [] : [['lostAboveC', degrees(lostAboveC)] as const]),
    ...(holdS === undefined ? [] : [['holdS', PROFILE.minutes(Math.round((holdS / S_PER_MIN) * 10) / 10)] as const]),
  ];
}
