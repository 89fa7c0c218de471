/** The strips over a run that goes on calmly or has for now: alarms seen or over, what is not on disk, what was missed, why nothing sounds. */
import type { ActiveAlarm, PastAlarm, View } from '../../server/core/show/view.ts';
import type { NowMessage } from '../../server/core/show/wire.ts';
import type { LiveState } from '../live.ts';
import { carriedOnAfterS } from '../carried-on.ts';
import { carefulOf } from '../moment.ts';
import { isLeftAlone } from '../sound/use-ringing.ts';
import { standsStrip, wasStrip } from '../words/alarm-words.ts';
import { clock, span } from '../words/measure.ts';
import type { Moment } from '../words/sentence.ts';
import { carefulStrip, carriedOnWords, LEFT_ALONE, RUN_STRIPS } from '../words/run-strips.ts';
import { Button } from './button.tsx';
import { SIGN } from './icons.tsx';

export interface RunStripsProps {
  readonly state: LiveState;
  readonly moment: Moment;
  /** Came and went, and nobody has read that here; undefined: none. */
  readonly unread: PastAlarm | undefined;
  readonly onSeen: (alarm: PastAlarm) => void;
}

export function RunStrips({ state, moment, unread, onSeen }: RunStripsProps) {
  const { view, now } = state;
  const goneS = carriedOnAfterS(state, moment.atMs);
  const careful = view.ended === null ? null : carefulOf(state);
  return (
    <>
      <SeenStrips view={view} moment={moment} />
      {unread !== undefined && <UnseenStrip alarm={unread} onSeen={() => onSeen(unread)} />}
      <UnrecordedStrip now={now} moment={moment} />
      {goneS !== null && (
        <p class="strip strip-was" role="status">
          <b>{carriedOnWords(goneS)}</b>
        </p>
      )}
      {isLeftAlone(state) && <LeftAloneStrip />}
      {careful !== null && (
        <p class="strip strip-was" role="alert">
          <b>{carefulStrip(careful, moment)}</b>
        </p>
      )}
    </>
  );
}

/** Nobody has been near for long: it is said why nothing sounds. */
function LeftAloneStrip() {
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
                {RUN_STRIPS.seenBy(
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
function UnseenStrip({ alarm, onSeen }: { readonly alarm: PastAlarm; readonly onSeen: () => void }) {
  return (
    <div class="strip strip-was">
      <b>{wasStrip(alarm)}</b>
      <Button onPress={onSeen} sign={SIGN.seen} class="button-low">
        {RUN_STRIPS.seen}
      </Button>
    </div>
  );
}

function UnrecordedStrip({ now, moment }: { readonly now: NowMessage | null; readonly moment: Moment }) {
  if (now === null || now.unrecordedSinceMs === null) return null;
  return (
    <p class="strip strip-was" role="alert">
      <b>{RUN_STRIPS.notOnDisk(span((moment.atMs - now.unrecordedSinceMs) / 1000), now.unrecordedWhy)}</b>
    </p>
  );
}
