/** The strips along the page's edges that are there at once: simulated, an alarm with its answers, what was not done. */
import type { AlarmName } from '../../server/core/record/event.ts';
import type { ActiveAlarm, View } from '../../server/core/show/view.ts';
import { ringing } from '../../server/core/show/ringing.ts';
import { isSilent } from '../sound/audible.ts';
import { useSpeaker } from '../sound/use-speaker.ts';
import { areaOf, quietLeftMs, quietWords, raisedName, seenWord } from '../words/alarm.ts';
import type { Moment } from '../words/sentence.ts';
import { SIMULATED_RIBBON } from '../words/states.ts';
import { Button } from './button.tsx';
import { SIGN } from './icons.tsx';
import { STRIPS } from '../words/page.ts';

export function SimulatedRibbon() {
  return (
    <p class="ribbon ribbon-dotted">
      <span>{SIMULATED_RIBBON}</span>
    </p>
  );
}

export interface AlarmAsks {
  readonly seen: (alarm: AlarmName) => void;
  readonly quiet: (alarm: AlarmName) => void;
}

/** Seen, and quiet for what rings now: the two answers to an alarm, wherever it stands. */
export function AlarmButtons(props: {
  readonly alarm: ActiveAlarm;
  readonly view: View;
  readonly moment: Moment;
  readonly asks: AlarmAsks;
}) {
  const { alarm, view, moment, asks } = props;
  const state = useSpeaker();
  const loud = ringing(view.alarms, moment.atMs);
  return (
    <>
      <Button onPress={() => asks.seen(alarm.alarm)} sign={SIGN.seen} class="seen">
        {seenWord(isSilent(state))}
      </Button>
      <Button
        onPress={() => loud.forEach((each) => asks.quiet(each.alarm))}
        sign={SIGN.soundOff}
        class="quieten"
        disabled={loud.length === 0}
      >
        {quietWords(quietLeftMs(view.alarms, moment.atMs))}
      </Button>
    </>
  );
}

/** An alarm that nobody has seen and that leaves the page its sentence: the worst of these, with its two answers. */
export function RaisedBar(props: { readonly view: View; readonly moment: Moment; readonly asks: AlarmAsks }) {
  const { view } = props;
  const alarm = view.alarms.find((each) => !each.acknowledged && areaOf(each) === 'band');
  if (alarm === undefined) return null;
  return (
    <section class="raised-bar" aria-label={STRIPS.alarm}>
      <b>{raisedName(alarm)}</b>
      <AlarmButtons {...props} alarm={alarm} />
    </section>
  );
}

/** Something the person asked for did not happen. */
export function TroubleStrip({ why, onRead }: { readonly why: string; readonly onRead: () => void }) {
  return (
    <div class="strip strip-was" role="alert">
      <b>{why}</b>
      <Button onPress={onRead} class="button-low">
        {STRIPS.read}
      </Button>
    </div>
  );
}
