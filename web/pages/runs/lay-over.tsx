/** Choosing in the list which runs to lay over one another: a large tick on each row, and what to do with those ticked. */
import { Button } from '../../controls/button.tsx';
import { LAID_LEAST, LAID_MOST } from '../../run-list.ts';
import type { RunLine } from '../../run-list.ts';
import { nameOf } from '../../run-words.ts';
import { LAY_OVER } from '../../words/library.ts';
import '../../style/compare.css';

/** Runs ticked, in the order of ticking; null: nobody is choosing. */
export type Ticked = readonly string[] | null;

export interface Tick {
  /** Its place among those ticked, from 1; 0: it is not. */
  readonly place: number;
  readonly isFull: boolean;
  readonly onTick: () => void;
}

export function tickOf(run: string, ticked: Ticked, onTicked: (ticked: Ticked) => void): Tick | null {
  if (ticked === null) return null;
  const place = ticked.indexOf(run) + 1;
  const next = place > 0 ? ticked.filter((each) => each !== run) : [...ticked, run];
  return { place, isFull: ticked.length >= LAID_MOST, onTick: () => onTicked(next) };
}

export function TickButton({ run, tick }: { readonly run: RunLine; readonly tick: Tick }) {
  const { place, isFull, onTick } = tick;
  return (
    <Button
      onPress={onTick}
      class="button-low run-card run-tick"
      label={LAY_OVER.tick(nameOf(run))}
      pressed={place > 0}
      disabled={place === 0 && isFull}
    >
      {place > 0 ? LAY_OVER.ticked : LAY_OVER.unticked}
    </Button>
  );
}

/** In the place of the list's own buttons while somebody chooses. */
export function LayOverBar({ ticked, onLeave }: { readonly ticked: readonly string[]; readonly onLeave: () => void }) {
  return (
    <footer class="controls lay-over-bar">
      <p role="status">{LAY_OVER.ticks(ticked.length)}</p>
      {ticked.length >= LAID_LEAST && (
        <a class="button button-solid" href={`#/compare/${ticked.map(encodeURIComponent).join(',')}`}>
          <span class="button-word">{LAY_OVER.lay(ticked.length)}</span>
        </a>
      )}
      <Button onPress={onLeave}>{LAY_OVER.leave}</Button>
    </footer>
  );
}
