/** One run in the list: what it is called and when it was, its folded curve, how it stood at the end; and the way to its card. */
import type { Phase } from '../../../server/core/record/profile.ts';
import { Button } from '../../controls/button.tsx';
import { FoldedStrip } from '../../controls/folded-strip.tsx';
import { StandingIcon } from '../../controls/icons.tsx';
import type { RunLine } from '../../run-list.ts';
import { factsOf, nameOf, outcomeOf, writtenOf } from '../../run-words.ts';
import { isWaitingForVerdict } from '../../setting.ts';
import { LIBRARY } from '../../words/library.ts';
import { standingAtEnd, standingName } from '../../words/standing.ts';
import { TickButton } from './lay-over.tsx';
import type { Tick } from './lay-over.tsx';

export interface RunRowProps {
  readonly run: RunLine;
  /** Those of its profile; none where it is no longer known. */
  readonly phases: readonly Phase[];
  readonly onCard: () => void;
  /** While runs are chosen to be laid over one another; null: they are not. */
  readonly tick: Tick | null;
}

export function RunRow({ run, phases, onCard, tick }: RunRowProps) {
  const written = writtenOf(run);
  return (
    <li class="run-line">
      <a class="run-row" href={`#/runs/${encodeURIComponent(run.run)}`}>
        <span class="run-title">
          <b class={run.name === null ? '' : 'said-by-person'}>{nameOf(run)}</b>
          <span>{factsOf(run, new Date())}</span>
          {written !== '' && <span class="said-by-person">{written}</span>}
        </span>
        <FoldedStrip tiles={run.tiles} visits={run.visits} endedAtMs={run.endedAtMs} phases={phases} />
        <span class="run-outcome">
          <b>
            <StandingIcon standing={run.standing} />
            {(run.endedAtMs === null ? standingName : standingAtEnd)(run.standing)}
          </b>
          <span>
            {outcomeOf(run)}
            {isWaitingForVerdict(run, Date.now()) && LIBRARY.toJudge}
          </span>
        </span>
      </a>
      {tick === null ? (
        <Button onPress={onCard} class="button-low run-card" label={LIBRARY.cardOf(nameOf(run))}>
          {LIBRARY.card}
        </Button>
      ) : (
        <TickButton run={run} tick={tick} />
      )}
    </li>
  );
}
