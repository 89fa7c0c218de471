/** Past runs: a plain list, newest first, each with its folded curve, how it stood and the worst that happened. */
import { useEffect, useState } from 'preact/hooks';
import type { Band } from '../../server/core/record/profile.ts';
import { FoldedStrip } from '../controls/folded-strip.tsx';
import { StandingIcon } from '../controls/icons.tsx';
import { fetchProfiles, fetchRuns } from '../post.ts';
import type { ProfileCard, RunCard } from '../post.ts';
import { clock, day, apart, span } from '../words/measure.ts';
import { ALARM_NAME } from '../words/names.ts';
import { standingName } from '../words/standing.ts';
import { BUTTONS } from '../words/buttons.ts';
import { RUNS } from '../words/page.ts';

type Listed =
  | { readonly kind: 'fetching' }
  | { readonly kind: 'failed'; readonly why: string }
  | { readonly kind: 'here'; readonly runs: readonly RunCard[]; readonly profiles: readonly ProfileCard[] };

export function RunsPage() {
  const [listed, setListed] = useState<Listed>({ kind: 'fetching' });
  useEffect(() => {
    void Promise.all([fetchRuns(), fetchProfiles()]).then(([runs, profiles]) => {
      if (!runs.ok) return setListed({ kind: 'failed', why: runs.why });
      return setListed({ kind: 'here', runs: runs.value, profiles: profiles.ok ? profiles.value : [] });
    });
  }, []);
  const said = saidOf(listed);
  return (
    <main class="runs">
      <header class="headline">
        <div class="headline-words">
          <h1 class="act step-full">{said.act}</h1>
          <p class="detail step-full">{said.detail}</p>
        </div>
      </header>
      {listed.kind === 'here' && (
        <ul class="run-rows">
          {listed.runs.map((run) => (
            <RunRow key={run.run} run={run} bandC={workBandOf(listed.profiles, run.profile)} />
          ))}
        </ul>
      )}
      <footer class="controls">
        <a class="button button-solid" href="#/">
          <span class="button-word">{BUTTONS.toBowl}</span>
        </a>
      </footer>
    </main>
  );
}

function saidOf(listed: Listed): { readonly act: string; readonly detail: string } {
  if (listed.kind === 'failed') return { act: RUNS.notHere, detail: listed.why };
  if (listed.kind === 'fetching') return { act: RUNS.yours, detail: RUNS.fetching };
  const newest = listed.runs[0];
  if (newest === undefined) return { act: RUNS.none, detail: RUNS.first };
  return { act: RUNS.look, detail: RUNS.count(listed.runs.length, day(newest.startedAtWall)) };
}

function RunRow({ run, bandC }: { readonly run: RunCard; readonly bandC: Band | null }) {
  return (
    <li>
      <a class="run-row" href={`#/runs/${encodeURIComponent(run.run)}`}>
        <span class="run-title">
          <b>{run.title}</b>
          <span>{whenWords(run)}</span>
        </span>
        <FoldedStrip tiles={run.tiles} bandC={bandC} />
        <span class="run-outcome">
          <b>
            <StandingIcon standing={run.standing} />
            {standingName(run.standing)}
          </b>
          <span>{worstWords(run)}</span>
        </span>
      </a>
    </li>
  );
}

/** Wed 25 Nov, 14:02, 2 h 32 min. */
function whenWords(run: RunCard): string {
  const length = run.endedAtMs === null ? RUNS.stillGoing : span(run.durationMs / 1000);
  const simulated = run.simulated ? RUNS.simulated : '';
  return `${day(run.startedAtWall)}, ${clock(run.startedAtWall, 0, 0)}, ${length}${simulated}`;
}

function worstWords(run: RunCard): string {
  if (run.worstOverC !== null && run.worstOverC >= 0.05) return RUNS.over(apart(run.worstOverC));
  return run.worstAlarm === null ? RUNS.neverOver : ALARM_NAME[run.worstAlarm];
}

function workBandOf(profiles: readonly ProfileCard[], id: string): Band | null {
  const profile = profiles.find((each) => each.id === id);
  return profile?.phases.findLast((phase) => phase.heading === 'hold')?.bandC ?? null;
}
