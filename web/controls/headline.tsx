/** The sentence at the top: as words on the page or as a band across it. Its size follows its length, in steps. */
import type { Sentence } from '../words/sentence.ts';
import { ArmIcon } from './icons.tsx';

/** Longest act and detail lines that fit the reference at full size, then at one step down (characters, measured on the widest words). */
const ACT_FULL = 21;
const ACT_SMALLER = 27;
const DETAIL_FULL = 42;
const DETAIL_SMALLER = 50;

export function Headline({ said }: { readonly said: Sentence }) {
  const isBand = said.area === 'band';
  return (
    <header class={isBand ? 'headline headline-band' : 'headline'}>
      {isBand && (
        <div class="arm">
          <ArmIcon arm={said.arm ?? 'ring'} />
        </div>
      )}
      <div class="headline-words">
        <h1 class={`act ${stepOf(said.act.length, ACT_FULL, ACT_SMALLER)}`}>{said.act}</h1>
        <p class={`detail ${stepOf(said.detail.length, DETAIL_FULL, DETAIL_SMALLER)}`}>{said.detail}</p>
      </div>
      {isBand && said.leftS !== null && <DrainBar leftS={said.leftS} />}
    </header>
  );
}

/** What is spoken when the act changes, and only then. */
export function Spoken({ said }: { readonly said: Sentence }) {
  return (
    <p class="only-spoken" role="status">
      {said.act}
    </p>
  );
}

/** Full scale of the draining bar, s (ours: cues come 15 s and more ahead). */
const DRAIN_FULL_S = 30;

function DrainBar({ leftS }: { readonly leftS: number }) {
  return <progress class="drain" max={DRAIN_FULL_S} value={Math.min(leftS, DRAIN_FULL_S)} aria-hidden="true" />;
}

function stepOf(length: number, full: number, smaller: number): string {
  if (length <= full) return 'step-full';
  return length <= smaller ? 'step-smaller' : 'step-smallest';
}
