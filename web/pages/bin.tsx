/** The bin: runs that were thrown away, for as long as they are kept; each can be taken out again, or deleted for good in two steps. */
import { useEffect, useRef, useState } from 'preact/hooks';
import { Button } from '../controls/button.tsx';
import { PageHead } from '../controls/page-head.tsx';
import type { Answer } from '../post.ts';
import { onRunChanged } from '../run-changed.ts';
import { deleteRun, fetchBin, postBinned } from '../run-list.ts';
import type { RunLine, RunLines } from '../run-list.ts';
import { daysLeft, factsOf, nameOf, writtenOf } from '../run-words.ts';
import { BIN, LIBRARY } from '../words/library.ts';
import { day } from '../words/day.ts';
import '../style/library.css';
import { ELSEWHERE } from '../words/elsewhere.ts';

export function BinPage() {
  const [answer, setAnswer] = useState<Answer<RunLines> | null>(null);
  const [trouble, setTrouble] = useState<string | null>(null);
  /** Why what is shown is as it was. */
  const [old, setOld] = useState<string | null>(null);
  const newest = useRef(0);
  // What was had of it stays, whatever fails later.
  const ask = async (): Promise<void> => {
    const number = ++newest.current;
    const next = await fetchBin();
    if (number !== newest.current) return;
    setAnswer((now) => (next.ok || now?.ok !== true ? next : now));
    setOld(next.ok ? null : next.why);
  };
  useEffect(() => {
    void ask();
    return onRunChanged(null, () => void ask());
  }, []);
  const done = (what: Answer<unknown>): void => {
    setTrouble(what.ok ? null : what.why);
    void ask();
  };
  const said = saidOf(answer);
  return (
    <main class="runs" aria-busy={answer === null}>
      <PageHead {...said} />
      {(trouble !== null || (old !== null && answer?.ok === true)) && (
        <p class="strip strip-was" role="alert">
          <b>{trouble ?? LIBRARY.notNew(old ?? '')}</b>
        </p>
      )}
      {answer?.ok === true && (
        <ul class="run-rows">
          {answer.value.runs.map((run) => (
            <BinRow
              key={run.run}
              run={run}
              onTake={() => void postBinned(run.run, false).then(done)}
              onDelete={() => void deleteRun(run.run).then(done)}
            />
          ))}
        </ul>
      )}
      <footer class="controls">
        <a class="button button-solid" href="#/runs">
          <span class="button-word">{ELSEWHERE.runs}</span>
        </a>
      </footer>
    </main>
  );
}

function saidOf(answer: Answer<RunLines> | null): { readonly act: string; readonly detail: string } {
  if (answer === null) return { act: BIN.title, detail: BIN.fetching };
  if (!answer.ok) return { act: BIN.notHere, detail: answer.why };
  const { total } = answer.value;
  return total === 0 ? { act: BIN.empty, detail: BIN.emptyDetail } : { act: BIN.act, detail: BIN.detail(total) };
}

interface BinRowProps {
  readonly run: RunLine;
  readonly onTake: () => void;
  readonly onDelete: () => void;
}

/** The second step stands in the place of the first, with the safe answer where the first was pressed: a double tap deletes nothing. */
function BinRow({ run, onTake, onDelete }: BinRowProps) {
  const [isAsking, setAsking] = useState(false);
  const name = nameOf(run);
  const now = new Date();
  const since = run.binnedAtWall ?? '';
  return (
    <li class="bin-row">
      <span class="run-title">
        <b class={run.name === null ? '' : 'said-by-person'}>
          <a href={`#/runs/${encodeURIComponent(run.run)}`}>{name}</a>
        </b>
        <span>{factsOf(run, now)}</span>
        {writtenOf(run) !== '' && <span class="said-by-person">{writtenOf(run)}</span>}
        {isAsking ? (
          <strong role="status">{BIN.ask(name)}</strong>
        ) : (
          <span>{`${BIN.since(day(since))}, ${BIN.left(daysLeft(since, now))}`}</span>
        )}
      </span>
      {isAsking ? (
        <span class="bin-buttons" role="group" aria-label={BIN.ask(name)}>
          <Button onPress={onDelete} class="button-low">
            {BIN.deleteIt}
          </Button>
          <Button onPress={() => setAsking(false)} class="button-low" look="solid">
            {BIN.keepIt}
          </Button>
        </span>
      ) : (
        <span class="bin-buttons">
          <Button onPress={onTake} class="button-low" label={BIN.takeOutOf(name)}>
            {BIN.takeOut}
          </Button>
          <Button onPress={() => setAsking(true)} class="button-low" label={BIN.deleteOf(name)}>
            {BIN.delete}
          </Button>
        </span>
      )}
    </li>
  );
}
