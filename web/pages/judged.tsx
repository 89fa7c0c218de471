/** A run judged again: second logs of its trace, made on a wish, and one of them laid beside the first. The first is never rewritten. */
import { useEffect, useState } from 'preact/hooks';
import type { Judgement } from '../../server/core/record/judgement.ts';
import { Button } from '../controls/button.tsx';
import { dropJudging, fetchJudgedRun, fetchJudgings, fetchSecondLog, postJudging } from '../judgements.ts';
import type { JudgedRun, JudgingNow, SecondLog } from '../judgements.ts';
import { fetchProfiles } from '../fetched.ts';
import type { Answer } from '../post.ts';
import { useAsked } from '../use-asked.ts';
import type { Asked } from '../use-asked.ts';
import { START } from '../words/start.ts';
import { JUDGED } from '../words/side-by-side.ts';
import { SideBySide } from './judged/side-by-side.tsx';
import { ELSEWHERE } from '../words/elsewhere.ts';

/** A judging that is going is asked after this often, ms (ours). */
const ASK_EVERY_MS = 500;

export function JudgedPage({ about: run }: { readonly about: string }) {
  const { value, trouble, ask } = useAsked(run, () => fetchJudgedRun(run));
  if (value !== null) return <JudgedRunPage run={value} />;
  return (
    <main class="past judged" aria-busy={trouble === null}>
      <Head act={trouble === null ? JUDGED.fetching : JUDGED.notHere} detail={trouble ?? ''} />
      {trouble !== null && <Again onAgain={ask} />}
      <Ways run={null} />
    </main>
  );
}

function JudgedRunPage({ run }: { readonly run: JudgedRun }) {
  const id = run.info.run;
  const { list, log, trouble, ask, choose } = useJudgings(id);
  const profiles = useAsked('', fetchProfiles);
  const { judgements = [], going = null, failed = null } = list.value ?? {};
  const isOther = going !== null && going.run !== id;
  const cannotBegin = list.value === null || going !== null;
  return (
    <main class="past judged">
      <Said run={run} list={list} log={log} onBreakOff={(judging) => ask(() => dropJudging(id, judging))} />
      {failed !== null && <p role="alert">{JUDGED.failed(failed.reason)}</p>}
      {[trouble, list.value === null ? null : list.trouble, log.value === null ? null : log.trouble, profiles.trouble]
        .filter((why) => why !== null)
        .map((why, i) => (
          <p role="alert" key={i}>
            {why}
          </p>
        ))}
      <Choices
        judgements={judgements}
        shown={log.value}
        onChoose={choose}
        onAway={(judging) => ask(() => dropJudging(id, judging))}
      />
      <section class="judge-wish" aria-label={JUDGED.wish}>
        <h2>{JUDGED.wish}</h2>
        {isOther && <p role="status">{JUDGED.other}</p>}
        <Button onPress={() => ask(() => postJudging(id, null))} disabled={cannotBegin} look="solid">
          {JUDGED.byToday}
        </Button>
        {(profiles.value ?? [])
          .filter((profile) => profile.id !== run.header.profile.id)
          .map((profile) => (
            <Button key={profile.id} onPress={() => ask(() => postJudging(id, profile.id))} disabled={cannotBegin}>
              {JUDGED.by(profile.title)}
            </Button>
          ))}
      </section>
      <Ways run={id} />
    </main>
  );
}

interface SaidProps {
  readonly run: JudgedRun;
  readonly list: Asked<JudgingNow>;
  readonly log: Asked<SecondLog>;
  readonly onBreakOff: (id: string) => void;
}

/** What stands at the top: how far it has come, or the log that is looked at beside the first. */
function Said({ run, list, log, onBreakOff }: SaidProps) {
  if (list.value === null) {
    return <Coming trouble={list.trouble} fetching={JUDGED.fetchingList} missing={JUDGED.noList} onAgain={list.ask} />;
  }
  const { going, judgements } = list.value;
  if (going?.run === run.info.run) {
    return (
      <>
        <Head act={JUDGED.going(going.profile)} detail={JUDGED.share(going.share)} />
        <p class="judging">
          <progress max={1} value={going.share} aria-label={JUDGED.progress} />
          <Button onPress={() => onBreakOff(going.id)}>{JUDGED.breakOff}</Button>
        </p>
      </>
    );
  }
  if (judgements.length === 0) return <Head act={JUDGED.none} detail={JUDGED.noneDetail} />;
  if (log.value !== null) return <SideBySide run={run} log={log.value} />;
  return <Coming trouble={log.trouble} fetching={JUDGED.fetchingLog} missing={JUDGED.noLog} onAgain={log.ask} />;
}

interface ComingProps {
  readonly trouble: string | null;
  readonly fetching: string;
  readonly missing: string;
  readonly onAgain: () => Promise<void>;
}

function Coming({ trouble, fetching, missing, onAgain }: ComingProps) {
  if (trouble === null) return <Head act={fetching} detail="" />;
  return (
    <>
      <Head act={missing} detail={trouble} />
      <Again onAgain={onAgain} />
    </>
  );
}

function Again({ onAgain }: { readonly onAgain: () => Promise<void> }) {
  return (
    <p class="judging">
      <Button onPress={() => void onAgain()}>{START.tryAgain}</Button>
    </p>
  );
}

/** The list as it is, the second log that is looked at (the newest, where nobody chose), and doing something about it. */
function useJudgings(run: string) {
  const list = useAsked(run, () => fetchJudgings(run));
  const [chosen, setChosen] = useState<string | null>(null);
  const [trouble, setTrouble] = useState<string | null>(null);
  useAgainWhile(list.value !== null && list.value.going !== null, list.ask);
  const ids = list.value?.judgements.map(({ id }) => id) ?? [];
  const id = chosen !== null && ids.includes(chosen) ? chosen : (ids.at(-1) ?? null);
  const log = useAsked(id, () => fetchSecondLog(run, id ?? ''));
  const ask = (asked: () => Promise<Answer<unknown>>): void => {
    void asked().then((answer) => {
      setTrouble(answer.ok ? null : answer.why);
      if (answer.ok) setChosen(null);
      return list.ask();
    });
  };
  return { list, log, trouble, ask, choose: setChosen };
}

/** Asks again some time after each answer, never before it is here. */
function useAgainWhile(isGoing: boolean, ask: () => Promise<void>): void {
  useEffect(() => {
    if (!isGoing) return undefined;
    let isWanted = true;
    let timer = 0;
    const later = (): void => {
      timer = window.setTimeout(() => void ask().then(() => isWanted && later()), ASK_EVERY_MS);
    };
    later();
    return () => {
      isWanted = false;
      window.clearTimeout(timer);
    };
  }, [isGoing]);
}

interface ChoicesProps {
  readonly judgements: readonly Judgement[];
  readonly shown: SecondLog | null;
  readonly onChoose: (id: string) => void;
  readonly onAway: (id: string) => void;
}

function Choices({ judgements, shown, onChoose, onAway }: ChoicesProps) {
  if (judgements.length === 0) return null;
  return (
    <section class="judge-wish" aria-label={JUDGED.logs}>
      <h2>{JUDGED.logs}</h2>
      {judgements.map(({ id, header, judgedAtWall }) => (
        <Button key={id} onPress={() => onChoose(id)} pressed={id === shown?.judgement.id}>
          {JUDGED.log(header.profile.title, judgedAtWall)}
        </Button>
      ))}
      {shown !== null && <Button onPress={() => onAway(shown.judgement.id)}>{JUDGED.away}</Button>}
    </section>
  );
}

function Head({ act, detail }: { readonly act: string; readonly detail: string }) {
  return (
    <header class="headline">
      <div class="headline-words">
        <h1 class="act step-full">{act}</h1>
        <p class="detail step-full">{detail}</p>
      </div>
    </header>
  );
}

function Ways({ run }: { readonly run: string | null }) {
  return (
    <footer class="controls">
      {run !== null && (
        <a class="button button-plain" href={`#/runs/${encodeURIComponent(run)}`}>
          <span class="button-word">{JUDGED.toRun}</span>
        </a>
      )}
      <a class="button button-plain" href="#/runs">
        <span class="button-word">{ELSEWHERE.runs}</span>
      </a>
    </footer>
  );
}
