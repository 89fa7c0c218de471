/** The switch for the best runs behind the curve, and what there is to be shown of them. */
import { useEffect, useState } from 'preact/hooks';
import type { RunInfo } from '../../server/core/show/wire.ts';
import { fetchBestLines } from '../envelope.ts';
import type { Answer } from '../post.ts';
import type { RunLine } from '../run-list.ts';
import { changeViewer, viewer } from '../viewer.ts';
import { BEST } from '../words/best.ts';
import { Button } from './button.tsx';

export function BestPart({ info }: { readonly info: RunInfo }) {
  const [answer, setAnswer] = useState<Answer<readonly RunLine[]> | null>(null);
  const isOn = viewer().seesBest === true;
  useEffect(() => {
    let isShown = true;
    setAnswer(null);
    if (isOn) void fetchBestLines(info).then((lines) => isShown && setAnswer(lines));
    return () => {
      isShown = false;
    };
  }, [isOn, info.run]);
  return (
    <>
      <div class="choices">
        <Button onPress={() => changeViewer({ seesBest: !isOn })} pressed={isOn} class="best-switch">
          {BEST.show}
        </Button>
      </div>
      <p class="best-words" role="status">
        {isOn && wordsOf(answer, info.profile.title)}
      </p>
    </>
  );
}

function wordsOf(answer: Answer<readonly RunLine[]> | null, profile: string): string {
  if (answer === null) return BEST.coming;
  if (!answer.ok) return answer.why;
  return answer.value.length === 0 ? BEST.none(profile) : BEST.shown(answer.value.length);
}
