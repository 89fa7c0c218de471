/** The strips along the page's edges: simulated, playback, alarms raised, seen or over, not recording. */
import type { AlarmName } from '../../server/core/record/event.ts';
import type { ActiveAlarm, PastAlarm, View } from '../../server/core/show/view.ts';
import type { NowMessage } from '../../server/core/show/wire.ts';
import { ringing } from '../../server/core/show/ringing.ts';
import { isSilent } from '../sound/audible.ts';
import { useSpeaker } from '../sound/use-speaker.ts';
import { areaOf, quietLeftMs, quietWords, raisedName, seenWord, standsStrip, wasStrip } from '../words/alarm.ts';
import { clock, span } from '../words/measure.ts';
import type { Moment } from '../words/sentence.ts';
import { LEFT_ALONE } from '../words/sound.ts';
import { SIMULATED_RIBBON } from '../words/states.ts';
import { Button } from './button.tsx';
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
      <Button onPress={() => asks.seen(alarm.alarm)} sign="seen" class="seen">
        {seenWord(isSilent(state))}
      </Button>
      <Button
        onPress={() => loud.forEach((each) => asks.quiet(each.alarm))}
        sign="soundOff"
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

/** Nobody has been near for long: it is said why nothing sounds. */
export function LeftAloneStrip() {
  return (
    <p class="strip strip-was" role="status">
      <b>{LEFT_ALONE.title}</b>
      <span>{LEFT_ALONE.detail}</span>
    </p>
  );
}

/** What was foretold has come: the alarm of the crossing itself says all of it. */
function hasCome({ alarm }: ActiveAlarm, { alarms }: View): boolean {
  return alarms.some((other) => `${other.alarm}-ahead` === alarm);
}

/** For as long as an alarm stands after it has been seen: what, for how long, seen by whom and when. */
export function SeenStrips({ view, moment }: { readonly view: View; readonly moment: Moment }) {
  const { info } = view;
  return (
    <>
      {view.alarms
        .filter((alarm) => alarm.acknowledged && !hasCome(alarm, view))
        .map((alarm) => (
          <p class="strip strip-alarm" key={alarm.alarm}>
            <b>{standsStrip(alarm, moment)}</b>
            {info !== null && alarm.acknowledgedAtMs !== null && (
              <span>
                {STRIPS.seenBy(
                  alarm.acknowledgedBy,
                  clock(info.startedAtWall, info.startedAtMs, alarm.acknowledgedAtMs),
                )}
              </span>
            )}
          </p>
        ))}
    </>
  );
}

/** An alarm that came and went unseen stays until somebody has read it. */
export function UnseenStrip({ alarm, onSeen }: { readonly alarm: PastAlarm; readonly onSeen: () => void }) {
  return (
    <div class="strip strip-was">
      <b>{wasStrip(alarm)}</b>
      <Button onPress={onSeen} sign="seen" class="button-low">
        {STRIPS.seen}
      </Button>
    </div>
  );
}

export function UnrecordedStrip({ now, moment }: { readonly now: NowMessage | null; readonly moment: Moment }) {
  if (now === null || now.unrecordedSinceMs === null) return null;
  return (
    <p class="strip strip-was" role="alert">
      <b>{STRIPS.notOnDisk(span((moment.atMs - now.unrecordedSinceMs) / 1000), now.unrecordedWhy)}</b>
    </p>
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
