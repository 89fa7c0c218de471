/**
 * Parts of the page that are fetched apart from it: sentence, number and alarm stand before the road is there, and nobody waits for
 * pages of past runs who only looks at the bowl.
 */
import type { ComponentType } from 'preact';
import { useLayoutEffect, useState } from 'preact/hooks';
import { Button } from './controls/button.tsx';
import { PART } from './words/part.ts';

/** The road with its chart. Asked for again, it is the same one. */
export const fetchRoad = () => import('./road/road.ts');
/** What shows the whole run on it, or a part that is held. */
export const fetchOtherViews = () => import('./road/other-views.ts');
/** For those who hear the road. */
export const fetchRoadSummary = () => import('./words/road-summary.ts');

/** What answers a hand: buttons that come at a tap, keys, the voice, and what is asked of Bowlside. */
export const fetchAtHand = () => import('./at-hand.ts');

/** A page that is fetched when it is first shown. Says so while it comes, and what to do where it doesn't. */
export function laterPage<Props extends object>(fetchPage: () => Promise<ComponentType<Props>>): ComponentType<Props> {
  return later(fetchPage, ({ isMissing }) => (
    <main class="runs" aria-busy={!isMissing}>
      {isMissing ? (
        <MissingPart />
      ) : (
        <header class="headline">
          <h1 class="act step-full">{PART.coming}</h1>
        </header>
      )}
    </main>
  ));
}

/** A part of a page that is fetched when it is first shown; nothing stands in its place while it comes. */
export function laterPart<Props extends object>(fetchPart: () => Promise<ComponentType<Props>>): ComponentType<Props> {
  return later(fetchPart, OrMissing);
}

/** The same, of what stands beside a part that says itself that it is missing. */
export function besidePart<Props extends object>(fetchPart: () => Promise<ComponentType<Props>>): ComponentType<Props> {
  return later(fetchPart, Nothing);
}

/**
 * A part of what is at hand. It is asked for ahead, so that it stands in its place in the very moment of a tap: a second tap there finds what is
 * meant to be there. `Waiting`: unless said otherwise, the page of a run says for all of it that it is missing.
 */
export function atHand<Props extends object>(
  which: (part: Awaited<ReturnType<typeof fetchAtHand>>) => ComponentType<Props>,
  Waiting: Waiting = Nothing,
): ComponentType<Props> {
  return later(() => fetchAtHand().then(which), Waiting, true);
}

type Waiting = ComponentType<WaitingProps>;

interface WaitingProps {
  readonly isMissing: boolean | null;
}

function Nothing() {
  return null;
}

export function OrMissing({ isMissing }: WaitingProps) {
  return isMissing ? <MissingPart /> : null;
}

function later<Props extends object>(
  fetchIt: () => Promise<ComponentType<Props>>,
  Waiting: Waiting,
  isAhead = false,
): ComponentType<Props> {
  let Here: ComponentType<Props> | null = null;
  const come = (it: ComponentType<Props>): void => {
    Here = it;
  };
  if (isAhead) fetchIt().then(come, () => undefined);
  return function Later(props) {
    /** null: it is here. */
    const [isMissing, setMissing] = useState<boolean | null>(false);
    const show = (it: ComponentType<Props>): void => {
      come(it);
      setMissing(null);
    };
    useLayoutEffect(() => (Here === null ? askUntilHere(fetchIt, show, () => setMissing(true)) : undefined), []);
    return Here === null ? <Waiting isMissing={isMissing} /> : <Here {...props} />;
  };
}

/** Asked for again so long after it did not come, ms (ours). */
const AGAIN_AFTER_MS = 5_000;

/** `miss`: called each time it does not come. Returns how to stop asking. */
export function askUntilHere<Part>(fetchIt: () => Promise<Part>, take: (part: Part) => void, miss: () => void) {
  let isWanted = true;
  const ask = (): void => {
    if (!isWanted) return;
    void fetchIt().then(
      (part) => isWanted && take(part),
      () => {
        miss();
        setTimeout(ask, AGAIN_AFTER_MS);
      },
    );
  };
  ask();
  return (): void => {
    isWanted = false;
  };
}

/** What stands in the place of a part that could not be fetched: the server is gone, or was renewed since this page was loaded. */
export function MissingPart() {
  return (
    <div role="alert" class="part-missing">
      <p>{PART.missing}</p>
      <Button onPress={() => location.reload()} look="solid">
        {PART.again}
      </Button>
    </div>
  );
}
