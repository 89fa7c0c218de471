/**
 * Something asked of Bowlside, and asked again whenever it may be otherwise. The last good answer stays in sight while a newer one is on its
 * way, and where none comes: what somebody has open on the page is never taken away by a line that failed.
 */
import { useEffect, useRef, useState } from 'preact/hooks';
import type { Answer } from './post.ts';

export interface Asked<Value> {
  /** The newest that came; null: none yet. */
  readonly value: Value | null;
  /** Why the newest answer brought nothing; null: it brought it, or is still on its way. */
  readonly trouble: string | null;
  /** Asks again; settled when the answer is here. */
  readonly ask: () => Promise<void>;
  /** It was told in another way, as the answer to a change. */
  readonly take: (value: Value) => void;
}

/** `about`: what it is asked of; of another one nothing is known yet. null: of nothing, and nothing is asked. */
export function useAsked<Value>(about: string | null, fetchIt: () => Promise<Answer<Value>>): Asked<Value> {
  const [here, setHere] = useState<Here<Value>>({ about, value: null, trouble: null });
  const order = useRef({ asked: 0, taken: 0 });
  const wanted = useRef(about);
  wanted.current = about;
  /** Answers may come in another order than they were asked for: an older one than the one that is here says nothing. */
  const put = (number: number, answer: Answer<Value>): void => {
    if (wanted.current !== about || number < order.current.taken) return;
    order.current.taken = number;
    setHere((was) => ({
      about,
      value: answer.ok ? answer.value : was.about === about ? was.value : null,
      trouble: answer.ok ? null : answer.why,
    }));
  };
  const ask = async (): Promise<void> => {
    const number = ++order.current.asked;
    put(number, await fetchIt());
  };
  useEffect(() => {
    if (about !== null) void ask();
  }, [about]);
  const { value, trouble } = here.about === about ? here : { value: null, trouble: null };
  return { value, trouble, ask, take: (told) => put(++order.current.asked, { ok: true, value: told }) };
}

interface Here<Value> {
  readonly about: string | null;
  readonly value: Value | null;
  readonly trouble: string | null;
}
