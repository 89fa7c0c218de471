/**
 * Parts of the page that are fetched apart from it: sentence, number and alarm stand before the road is there, and nobody waits for
 * pages of past runs who only looks at the bowl.
 */
import type { ComponentType } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import { Button } from './controls/button.tsx';
import { PART } from './words/part.ts';

/** The road with its chart. Asked for again, it is the same one. */
export const fetchRoad = () => import('./road/road.ts');

/** A page that is fetched when it is first shown. Says so while it comes, and what to do where it doesn't. */
export function laterPage<Props extends object>(fetchPage: () => Promise<ComponentType<Props>>): ComponentType<Props> {
  let Page: ComponentType<Props> | null = null;
  return function Later(props) {
    const [, setCame] = useState(false);
    const [isMissing, setMissing] = useState(false);
    useEffect(() => {
      if (Page !== null) return;
      fetchPage().then(
        (page) => {
          Page = page;
          setCame(true);
        },
        () => setMissing(true),
      );
    }, []);
    if (Page !== null) return <Page {...props} />;
    return (
      <main class="runs">
        {isMissing ? (
          <MissingPart />
        ) : (
          <header class="headline">
            <h1 class="act step-full">{PART.coming}</h1>
          </header>
        )}
      </main>
    );
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
