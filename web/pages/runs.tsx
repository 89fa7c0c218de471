/** Past runs: a quiet list, to be searched, narrowed and put in order; each with its folded curve, how it stood and how it was judged. */
import { useEffect, useRef, useState } from 'preact/hooks';
import { BinPart } from '../controls/bin-part.tsx';
import { Button } from '../controls/button.tsx';
import { CardPart } from '../controls/card.tsx';
import { Sheet } from '../controls/sheet.tsx';
import { fetchProfiles } from '../post.ts';
import type { ProfileCard } from '../post.ts';
import { onRunChanged } from '../run-changed.ts';
import { EVERY_RUN, fetchChoices, fetchRuns, isNarrow, postBinned, RUNS_PER_PAGE } from '../run-list.ts';
import type { RunChoices, RunLine, RunLines, RunWish } from '../run-list.ts';
import { dateOf, nameOf } from '../run-words.ts';
import { BUTTONS } from '../words/buttons.ts';
import { CARD } from '../words/cards.ts';
import { BIN, LAY_OVER, LIBRARY } from '../words/library.ts';
import { RUNS } from '../words/page.ts';
import { FindBar } from './runs/find-bar.tsx';
import { LayOverBar, tickOf } from './runs/lay-over.tsx';
import type { Ticked } from './runs/lay-over.tsx';
import { RunRow } from './runs/run-row.tsx';
import '../style/library.css';

type Listed =
  | { readonly kind: 'fetching' }
  | { readonly kind: 'failed'; readonly why: string }
  | ({ readonly kind: 'here'; readonly wish: RunWish } & RunLines);

/** A word is looked for when no key was struck for so long, ms (ours). */
const TYPED_MS = 200;

/** What was looked for last: whoever comes back from a run finds the list as they left it. */
let lastWish = EVERY_RUN;

export function RunsPage() {
  const [wish, setWish] = useState(lastWish);
  const [listed, fetchMore, fetchAgain] = useLines(wish);
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
  const change = (part: Partial<RunWish>): void => setWish((now) => (lastWish = { ...now, ...part }));
  const said = saidOf(listed);
  return (
    <main class="runs">
      <header class="headline">
        <div class="headline-words">
          <h1 class="act step-full">{said.act}</h1>
          <p class="detail step-full" role="status">
            {said.detail}
          </p>
        </div>
      </header>
      <FindBar wish={wish} choices={choices} onChange={change} />
      {binned !== null && (
        <div class="strip strip-was" role="status">
          <b>{BIN.isIn(nameOf(binned))}</b>
          <Button
            class="button-low"
            onPress={() => {
              setBinned(null);
              void postBinned(binned.run, false).then(fetchAgain);
            }}
          >
            {BIN.takeOut}
          </Button>
        </div>
      )}
      {listed.kind === 'here' && (
        <ul class="run-rows">
          {listed.runs.map((run) => (
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
      {listed.kind === 'here' && listed.runs.length < listed.total && (
        <div class="run-more">
          <Button onPress={fetchMore}>{LIBRARY.more}</Button>
          <p class="quiet">{LIBRARY.shown(listed.runs.length, listed.total)}</p>
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
              fetchAgain();
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
        <span class="button-word">{BUTTONS.toBowl}</span>
      </a>
      <Button onPress={onLayOver}>{LAY_OVER.title}</Button>
      <a class="button button-plain" href="#/bin">
        <span class="button-word">{LIBRARY.openBin}</span>
      </a>
      <a class="button button-plain" href="#/bring-in">
        <span class="button-word">{BUTTONS.bringIn}</span>
      </a>
      <a class="button button-plain" href="#/kept">
        <span class="button-word">{BUTTONS.kept}</span>
      </a>
    </footer>
  );
}

/** The runs that fit, how to get more of them, and all shown so far anew; by itself when one of them has changed. */
function useLines(wish: RunWish): readonly [Listed, () => void, () => void] {
  const [listed, setListed] = useState<Listed>({ kind: 'fetching' });
  const newest = useRef(0);
  const ask = async (after: number, shown: readonly RunLine[], most = RUNS_PER_PAGE): Promise<void> => {
    const number = ++newest.current;
    const answer = await fetchRuns(wish, after, most);
    // Whatever was asked for meanwhile is what is wanted.
    if (number !== newest.current) return;
    if (!answer.ok) return setListed({ kind: 'failed', why: answer.why });
    const { total, runs } = answer.value;
    setListed({ kind: 'here', wish, total, runs: [...shown, ...runs] });
  };
  const count = useRef(0);
  count.current = listed.kind === 'here' && listed.wish === wish ? listed.runs.length : 0;
  const again = (): void => void ask(0, [], Math.max(RUNS_PER_PAGE, count.current));
  const isFirst = listed.kind === 'fetching';
  useEffect(() => {
    const timer = window.setTimeout(again, isFirst ? 0 : TYPED_MS);
    const stop = onRunChanged(null, again);
    return () => {
      window.clearTimeout(timer);
      stop();
    };
  }, [wish]);
  const more = (): void => {
    if (listed.kind === 'here') void ask(listed.runs.length, listed.runs);
  };
  return [listed, more, again];
}

function saidOf(listed: Listed): { readonly act: string; readonly detail: string } {
  if (listed.kind === 'failed') return { act: RUNS.notHere, detail: listed.why };
  if (listed.kind === 'fetching') return { act: RUNS.yours, detail: RUNS.fetching };
  const { wish, total, runs } = listed;
  const newest = runs[0];
  if (isNarrow(wish))
    return total === 0
      ? { act: LIBRARY.noneFits, detail: LIBRARY.takeAway }
      : { act: RUNS.look, detail: LIBRARY.fit(total) };
  if (newest === undefined) return { act: RUNS.none, detail: RUNS.first };
  const onDay = wish.order === 'newest' ? dateOf(newest.startedAtWall, new Date()) : null;
  return { act: RUNS.look, detail: onDay === null ? LIBRARY.fit(total) : RUNS.count(total, onDay) };
}
