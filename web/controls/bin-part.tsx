/** Putting a run into the bin, and for one that lies there: since when, and the way out. */
import { useEffect, useRef, useState } from 'preact/hooks';
import { postBinned } from '../run-list.ts';
import { BIN } from '../words/library.ts';
import { Button } from './button.tsx';

export interface BinPartProps {
  readonly run: string;
  /** Only what is over can be thrown away. */
  readonly isGoing: boolean;
  readonly onBinned: () => void;
}

export function BinPart({ run, isGoing, onBinned }: BinPartProps) {
  const [trouble, setTrouble] = useState<string | null>(null);
  const put = async (): Promise<void> => {
    const answer = await postBinned(run, true);
    setTrouble(answer.ok ? null : answer.why);
    if (answer.ok) onBinned();
  };
  return (
    <section class="card-part bin-part">
      <h2>{BIN.title}</h2>
      <p class="quiet">{isGoing ? BIN.going : BIN.putHint}</p>
      {trouble !== null && <p role="alert">{trouble}</p>}
      <Button onPress={() => void put()} class="button-low" disabled={isGoing}>
        {BIN.put}
      </Button>
    </section>
  );
}

/** A run that lies in the bin, and the way out of it. */
export function BinnedStrip(props: {
  readonly run: string;
  /** What is said of where it lies. */
  readonly words: string;
  readonly onTaken: () => void;
}) {
  const [trouble, setTrouble] = useState<string | null>(null);
  const take = async (): Promise<void> => {
    const answer = await postBinned(props.run, false);
    setTrouble(answer.ok ? null : answer.why);
    if (answer.ok) props.onTaken();
  };
  const strip = useRef<HTMLDivElement>(null);
  // What put it there may stand far below.
  useEffect(() => strip.current?.scrollIntoView({ block: 'nearest' }), []);
  return (
    <div class="strip strip-was" role="status" ref={strip}>
      <b>{trouble ?? props.words}</b>
      <Button onPress={() => void take()} class="button-low">
        {BIN.takeOut}
      </Button>
    </div>
  );
}
