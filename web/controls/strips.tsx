/** The strips along the page's edges: simulated, playback, alarms seen or over, sound off, not recording. */
import type { ComponentChildren } from 'preact';
import type { PastAlarm, View } from '../../server/core/show/view.ts';
import { seenStrip, wasStrip } from '../words/alarm.ts';
import { clock, span } from '../words/measure.ts';
import type { Moment } from '../words/sentence.ts';
import { SIMULATED_RIBBON, SOUND_OFF } from '../words/states.ts';
import { Button } from './button.tsx';
import { SignIcon } from './icons.tsx';

export function SimulatedRibbon() {
  return (
    <p class="ribbon ribbon-dotted">
      <span>{SIMULATED_RIBBON}</span>
    </p>
  );
}

export function PlaybackRibbon({ children }: { readonly children: ComponentChildren }) {
  return <div class="ribbon ribbon-striped">{children}</div>;
}

/** For as long as an alarm stands after it has been seen: what, for how long, seen by whom and when. */
export function SeenStrips({ view, moment }: { readonly view: View; readonly moment: Moment }) {
  const { info } = view;
  return (
    <>
      {view.alarms
        .filter((alarm) => alarm.acknowledged)
        .map((alarm) => (
          <p class="strip strip-alarm" key={alarm.alarm}>
            <b>{seenStrip(alarm, moment)}</b>
            {info !== null && alarm.acknowledgedAtMs !== null && (
              <span>
                Seen{alarm.acknowledgedBy === null ? '' : ` by ${alarm.acknowledgedBy}`},{' '}
                {clock(info.startedAtWall, info.startedAtMs, alarm.acknowledgedAtMs)}
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
        Seen
      </Button>
    </div>
  );
}

export function UnrecordedStrip({ sinceMs, moment }: { readonly sinceMs: number; readonly moment: Moment }) {
  return (
    <p class="strip strip-was" role="alert">
      <b>Not on disk for {span((moment.atMs - sinceMs) / 1000)}. Make room on the disk; nothing is lost yet.</b>
    </p>
  );
}

/** Something the person asked for did not happen. */
export function TroubleStrip({ why, onRead }: { readonly why: string; readonly onRead: () => void }) {
  return (
    <div class="strip strip-was" role="alert">
      <b>{why}</b>
      <Button onPress={onRead} class="button-low">
        Read
      </Button>
    </div>
  );
}

export function SoundOffBar({ onTurnOn }: { readonly onTurnOn: () => void }) {
  return (
    <aside class="sound-bar" aria-label="Sound">
      <SignIcon sign="soundOff" />
      <p>
        <b>{SOUND_OFF.title}</b> <span>{SOUND_OFF.detail}</span>
      </p>
      <Button onPress={onTurnOn} look="ginger">
        {SOUND_OFF.button}
      </Button>
    </aside>
  );
}
