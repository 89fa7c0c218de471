/** What this viewer can set for this screen, in the More sheet: one tap each, kept in this browser. */
import { changeViewer, viewer } from '../viewer.ts';
import type { Look } from '../viewer.ts';
import type { Unit } from '../words/manner.ts';
import { SCREEN } from '../words/screen.ts';
import { Button } from './button.tsx';
import { SCREEN_PART, LOOK_NAMES, UNIT_NAMES } from '../words/screen-part.ts';

/** `onFar`: goes to the far view, which has no sheets. */
export function ScreenPart({ onFar }: { readonly onFar: () => void }) {
  const { look, unit, knowsSleep } = viewer();
  const looks = Object.keys(LOOK_NAMES) as Look[];
  const units = Object.keys(UNIT_NAMES) as Unit[];
  return (
    <section class="sheet-part">
      <h3>{SCREEN_PART.title}</h3>
      {!knowsSleep && (
        <div class="choices">
          <p>{SCREEN.mayGoDark}</p>
          <Button onPress={() => changeViewer({ knowsSleep: true })}>{SCREEN_PART.done}</Button>
        </div>
      )}
      <div class="choices" role="group" aria-label={SCREEN_PART.look}>
        {looks.map((each) => (
          <Button key={each} onPress={() => changeViewer({ look: each })} pressed={each === look}>
            {LOOK_NAMES[each]}
          </Button>
        ))}
      </div>
      <div class="choices" role="group" aria-label={SCREEN_PART.unit}>
        {units.map((each) => (
          <Button key={each} onPress={() => changeViewer({ unit: each })} pressed={each === unit}>
            {UNIT_NAMES[each]}
          </Button>
        ))}
        <Button onPress={onFar}>{SCREEN_PART.far}</Button>
      </div>
    </section>
  );
}
