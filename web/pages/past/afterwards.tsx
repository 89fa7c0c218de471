/** Below the curve of a past run: the run in words, its setting and rest, how it came out, and what may have gone wrong. */
import type { View } from '../../../server/core/show/view.ts';
import type { Account } from '../../../server/core/show/account.ts';
import { SettingSteps } from '../../controls/setting-part.tsx';
import { causesOf, faultsOf } from '../../faults.ts';
import type { Fault } from '../../faults.ts';
import type { OpenedRun } from '../../fetched.ts';
import { isTimed, restOf, wallAt, wasWorked } from '../../setting.ts';
import { useCard, useServerClock } from '../../use-card.ts';
import { accountLines } from '../../words/account.ts';
import type { AccountLine } from '../../words/account.ts';
import { CAUSE_WORDS, CURVE_WORDS, FAULT_NAME, SOURCE_WORDS } from '../../words/faults.ts';
import { day } from '../../words/day.ts';
import { SETTING, WENT } from '../../words/outcome.ts';
import { OutcomePart } from './outcome-part.tsx';

export interface AfterwardsProps {
  readonly run: OpenedRun;
  /** Of the whole run. */
  readonly view: View;
  readonly account: Account;
  /** Leads the head to a moment of the curve. */
  readonly onMoment: (atMs: number) => void;
}

export function Afterwards({ run, view, account, onMoment }: AfterwardsProps) {
  const lines = accountLines(account);
  return (
    <>
      <section class="went-part" aria-labelledby="went">
        <h2 id="went">{WENT.title}</h2>
        {run.importedAtWall !== null && <p>{WENT.broughtIn(day(run.importedAtWall))}</p>}
        <ul>
          {lines.map((line) => (
            <AccountItem key={line.text} line={line} onMoment={onMoment} />
          ))}
        </ul>
      </section>
      {run.endedAtMs !== null && <Outcome run={run} view={view} account={account} endedAtMs={run.endedAtMs} />}
    </>
  );
}

function AccountItem({ line, onMoment }: { readonly line: AccountLine; readonly onMoment: (atMs: number) => void }) {
  const { text, weight, atMs } = line;
  return (
    <li class={`went-${weight}`}>
      {atMs === null ? (
        <p>{text}</p>
      ) : (
        <button type="button" class="log-go" aria-label={WENT.toMoment(text)} onClick={() => onMoment(atMs)}>
          {text}
        </button>
      )}
    </li>
  );
}

interface OutcomeProps extends Pick<AfterwardsProps, 'run' | 'view' | 'account'> {
  readonly endedAtMs: number;
}

function Outcome({ run, view, account, endedAtMs }: OutcomeProps) {
  const { info } = run;
  const hold = useCard(info.run);
  const nowMs = useServerClock(hold.held);
  const { held } = hold;
  if (held === null) return hold.trouble === null ? null : <p class="outcome-part">{hold.trouble}</p>;
  const rest = restOf(held.card.setting, wallAt(info, endedAtMs), nowMs);
  const { outcome, setting } = held.card;
  const isToSet = outcome === null && (rest.kind !== 'unsaid' || wasWorked(info.profile, view.visits));
  const faults = outcome === null ? null : faultsOf(outcome);
  return (
    <>
      {(isToSet || isTimed(setting, rest)) && (
        <section class="setting-part" aria-labelledby="setting">
          <h2 id="setting">{SETTING.title}</h2>
          <SettingSteps rest={rest} hold={hold} nowMs={nowMs} />
        </section>
      )}
      <OutcomePart held={held} hold={hold} rest={rest} />
      {faults !== null && (faults.length > 0 || outcome?.verdict !== 'good') && (
        <WentWrong faults={faults} account={account} />
      )}
    </>
  );
}

function WentWrong({ faults, account }: { readonly faults: readonly Fault[]; readonly account: Account }) {
  return (
    <section class="wrong-part" aria-labelledby="wrong">
      <h2 id="wrong">{WENT.wrong}</h2>
      <p>{faults.length === 0 ? WENT.nothing : WENT.usual(SOURCE_WORDS.craft)}</p>
      {faults.map((fault) => (
        <div key={fault}>
          <h3>{FAULT_NAME[fault]}</h3>
          <ul>
            {causesOf(fault, account).map(({ cause, source, curve }) => (
              <li key={cause} class={`cause-${curve}`}>
                <span>{CAUSE_WORDS[cause]}</span>
                <span class="cause-curve">{CURVE_WORDS[curve]}</span>
                {source !== 'craft' && <span class="quiet">{SOURCE_WORDS[source]}</span>}
              </li>
            ))}
          </ul>
        </div>
      ))}
    </section>
  );
}
