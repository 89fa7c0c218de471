/** Past runs: a quiet list, to be searched, narrowed and put in order; each with its folded curve, how it stood and how it was judged. */
import { useEffect, useState } from 'preact/hooks';
import { BinnedStrip, BinPart } from '../controls/bin-part.tsx';
import { Button } from '../controls/button.tsx';
import { CardPart } from '../controls/card.tsx';
import { PageHead } from '../controls/page-head.tsx';
import { Sheet } from '../controls/sheet.tsx';
import { fetchProfiles } from '../fetched.ts';
import type { ProfileCard } from '../fetched.ts';
import { fetchChoices, isNarrow } from '../run-list.ts';
import type { RunChoices, RunLine } from '../run-list.ts';
import { dateOf, nameOf } from '../run-words.ts';
import { CARD } from '../words/cards.ts';
import { BIN, LAY_OVER, LIBRARY, RUNS } from '../words/library.ts';
import { FindBar } from './runs/find-bar.tsx';
import { LayOverBar, tickOf } from './runs/lay-over.tsx';
import type { Ticked } from './runs/lay-over.tsx';
import { RunRow } from './runs/run-row.tsx';
import { useLines } from './runs/use-lines.ts';
import type { Lines } from './runs/use-lines.ts';
import '../style/library.css';
import { ELSEWHERE } from '../words/elsewhere.ts';

export function RunsPage() {
  const lines = useLines();
  const { shown, trouble } = lines;
  const [profiles, setProfiles] = useState<readonly ProfileCard[]>([]);
  const [choices, setChoices] = useState<RunChoices>({ coatings: [], profiles: [], tags: [] });
  const [opened, setOpened] = useState<RunLine | null>(null);
  const [binned, setBinned] = useState<RunLine | null>(null);
  useEffect(() => {
    void fetchProfiles().then((answer) => answer.ok && setProfiles(answer.value));
    void fetchChoices().then((answer) => answer.ok && setChoices(answer.value));
    // Whoever looks at the list opens one of them: its page is here by then, and where it can't be had it is asked for again.
    void import('./past.tsx').catch(() => undefined);
  }, []);
  const [ticked, setTicked] = useState<Ticked>(null);
  const said = saidOf(lines);
  return (
    <main class="runs" aria-busy={shown === null && trouble === null}>
      <PageHead {...said} />
      <FindBar wish={lines.wish} choices={choices} onChange={lines.onWish} />
      {binned !== null && (
        <BinnedStrip
          run={binned.run}
          words={BIN.isIn(nameOf(binned))}
          onTaken={() => {
            setBinned(null);
            lines.again();
          }}
        />
      )}
      {trouble !== null && (
        <div class="strip strip-was" role="alert">
          <b>{shown === null ? RUNS.notHere : LIBRARY.notNew(trouble)}</b>
          <Button onPress={lines.again} class="button-low">
            {LIBRARY.tryAgain}
          </Button>
        </div>
      )}
      {shown !== null && (
        <ul class="run-rows">
          {shown.runs.map((run) => (
            <RunRow
              key={run.run}
              run={run}
              phases={profiles.find(({ id }) => id === run.profile)?.phases ?? []}
              onCard={() => setOpened(run)}
              tick={tickOf(run.run, ticked, setTicked)}
            />
          ))}
        </ul>
      )}
      {shown !== null && shown.runs.length < shown.total && (
        <div class="run-more">
          <Button onPress={lines.more}>{LIBRARY.more}</Button>
          <p class="quiet">{LIBRARY.shown(shown.runs.length, shown.total)}</p>
        </div>
      )}
      {ticked === null ? (
        <ListControls onLayOver={() => setTicked([])} />
      ) : (
        <LayOverBar ticked={ticked} onLeave={() => setTicked(null)} />
      )}
      {opened !== null && (
        <Sheet title={CARD.of(nameOf(opened))} onClose={() => setOpened(null)}>
          <CardPart run={opened.run} />
          <BinPart
            run={opened.run}
            isGoing={opened.endedAtMs === null}
            onBinned={() => {
              setBinned(opened);
              setOpened(null);
              lines.again();
            }}
          />
        </Sheet>
      )}
    </main>
  );
}

function ListControls({ onLayOver }: { readonly onLayOver: () => void }) {
  return (
    <footer class="controls">
      <a class="button button-solid" href="#/">
        <span class="button-word">{ELSEWHERE.toBowl}</span>
      </a>
      <Button onPress={onLayOver}>{LAY_OVER.title}</Button>
      <a class="button button-plain" href="#/bin">
        <span class="button-word">{LIBRARY.openBin}</span>
      </a>
      <a class="button button-plain" href="#/bring-in">
        <span class="button-word">{ELSEWHERE.bringIn}</span>
      </a>
      <a class="button button-plain" href="#/kept">
        <span class="button-word">{ELSEWHERE.kept}</span>
      </a>
    </footer>
  );
}

function saidOf({ wish, shown, trouble }: Lines): { readonly act: string; readonly detail: string } {
  if (shown === null)
    return trouble === null ? { act: RUNS.yours, detail: RUNS.fetching } : { act: RUNS.notHere, detail: trouble };
  const { total, runs } = shown;
  const newest = runs[0];
  if (isNarrow(wish))
    return total === 0
      ? { act: LIBRARY.noneFits, detail: LIBRARY.takeAway }
      : { act: RUNS.look, detail: LIBRARY.fit(total) };
  if (newest === undefined) return { act: RUNS.none, detail: RUNS.first };
  const onDay = wish.order === 'newest' ? dateOf(newest.beganAtWall, new Date()) : null;
  return { act: RUNS.look, detail: onDay === null ? LIBRARY.fit(total) : RUNS.count(total, onDay) };
}
