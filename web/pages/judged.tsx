/** A run judged again: second logs of its trace, made on a wish, and one of them laid beside the first. The first is never rewritten. */
import { useEffect, useState } from 'preact/hooks';
import type { Judgement } from '../../server/core/record/judgement.ts';
import { Button } from '../controls/button.tsx';
import { dropJudging, fetchJudgedRun, fetchJudgings, fetchSecondLog, postJudging } from '../judgements.ts';
import type { JudgedRun, JudgingNow, SecondLog } from '../judgements.ts';
import { fetchProfiles } from '../post.ts';
import type { Answer, ProfileCard } from '../post.ts';
import { BUTTONS } from '../words/buttons.ts';
import { JUDGED } from '../words/side-by-side.ts';
import { SideBySide } from './judged/side-by-side.tsx';

/** A judging that is going is asked after this often, ms (ours). */
const ASK_EVERY_MS = 500;

export function JudgedPage({ about: run }: { readonly about: string }) {
  const [answer, setAnswer] = useState<Answer<JudgedRun> | null>(null);
  useEffect(() => void fetchJudgedRun(run).then(setAnswer), [run]);
  if (answer?.ok === true) return <JudgedRunPage run={answer.value} />;
  return (
    <main class="past judged">
      <Head act={answer === null ? JUDGED.fetching : JUDGED.notHere} detail={answer?.why ?? ''} />
      <Ways run={null} />
    </main>
  );
}

function JudgedRunPage({ run }: { readonly run: JudgedRun }) {
  const { listed, shown, trouble, ask, choose } = useJudgings(run.info.run);
  const [profiles, setProfiles] = useState<readonly ProfileCard[]>([]);
  useEffect(() => void fetchProfiles().then((answer) => answer.ok && setProfiles(answer.value)), []);
  const { going = null, failed = null } = listed ?? {};
  return (
    <main class="past judged">
      {going !== null && (
        <>
          <Head act={JUDGED.going(going.profile)} detail={JUDGED.share(going.share)} />
          <p class="judging">
            <progress max={1} value={going.share} aria-label={JUDGED.progress} />
            <Button onPress={() => ask(() => dropJudging(going.run, going.id))}>{JUDGED.breakOff}</Button>
          </p>
        </>
      )}
      {going === null && shown === null && <Head act={JUDGED.none} detail={JUDGED.noneDetail} />}
      {going === null && shown !== null && <SideBySide run={run} log={shown} />}
      {failed !== null && <p role="alert">{JUDGED.failed(failed.reason)}</p>}
      {trouble !== null && <p role="alert">{trouble}</p>}
      <Choices
        judgements={listed?.judgements ?? []}
        shown={shown}
        onChoose={choose}
        onAway={(id) => ask(() => dropJudging(run.info.run, id))}
      />
      <section class="judge-wish" aria-label={JUDGED.wish}>
        <h2>{JUDGED.wish}</h2>
        <Button onPress={() => ask(() => postJudging(run.info.run, null))} disabled={going !== null} look="solid">
          {JUDGED.byToday}
        </Button>
        {profiles
          .filter(({ id }) => id !== run.header.profile.id)
          .map(({ id, title }) => (
            <Button key={id} onPress={() => ask(() => postJudging(run.info.run, id))} disabled={going !== null}>
              {JUDGED.by(title)}
            </Button>
          ))}
      </section>
      <Ways run={run.info.run} />
    </main>
  );
}

/** The list as it is, the second log that is looked at (the newest, where nobody chose), and doing something about it. */
function useJudgings(run: string) {
  const [listed, setListed] = useState<JudgingNow | null>(null);
  const [chosen, setChosen] = useState<string | null>(null);
  const [shown, setShown] = useState<SecondLog | null>(null);
  const [trouble, setTrouble] = useState<string | null>(null);
  const refresh = async (): Promise<void> => {
    const answer = await fetchJudgings(run);
    if (answer.ok) setListed(answer.value);
    else setTrouble(answer.why);
  };
  useEffect(() => void refresh(), [run]);
  const isGoing = listed !== null && listed.going !== null;
  useEffect(() => {
    if (!isGoing) return undefined;
    const timer = window.setInterval(() => void refresh(), ASK_EVERY_MS);
    return () => window.clearInterval(timer);
  }, [isGoing]);
  const ids = listed?.judgements.map(({ id }) => id) ?? [];
  const id = chosen !== null && ids.includes(chosen) ? chosen : (ids.at(-1) ?? null);
  useEffect(() => {
    if (id === null) return setShown(null);
    void fetchSecondLog(run, id).then((answer) => (answer.ok ? setShown(answer.value) : setTrouble(answer.why)));
  }, [id]);
  const ask = (asked: () => Promise<Answer<unknown>>): void => {
    void asked().then((answer) => {
      setTrouble(answer.ok ? null : answer.why);
      if (answer.ok) setChosen(null);
      return refresh();
    });
  };
  return { listed, shown: shown?.judgement.id === id ? shown : null, trouble, ask, choose: setChosen };
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

export function Head({ act, detail }: { readonly act: string; readonly detail: string }) {
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
        <span class="button-word">{BUTTONS.runs}</span>
      </a>
    </footer>
  );
}
