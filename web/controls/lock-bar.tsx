/**
 * In place of the controls and the sound's bar while they are locked. A wet sleeve taps in one place: to unlock takes two, apart from each
 * other. That no alarm would be heard is said here too.
 */
import { useEffect, useRef, useState } from 'preact/hooks';
import { useSpeaker } from '../sound/use-speaker.ts';
import { LOCK } from '../words/hands.ts';
import { SILENT_WORDS } from '../words/sound.ts';
import { Button } from './button.tsx';
import { SIGN } from './icons.tsx';
import { UNLOCK } from '../words/unlock.ts';

/** The second place waits this long, ms (ours: time to mean it, none for the next drop). */
const SECOND_WITHIN_MS = 4_000;

export function LockBar({ onUnlock }: { readonly onUnlock: () => void }) {
  const [isAsking, setAsking] = useState(false);
  const sound = useSpeaker();
  const silence = sound === 'on' || sound === 'asking' ? null : SILENT_WORDS[sound];
  const second = useRef<HTMLDivElement>(null);
  useEffect(() => {
    if (!isAsking) return undefined;
    second.current?.querySelector('button')?.focus({ preventScroll: true });
    const timer = window.setTimeout(() => setAsking(false), SECOND_WITHIN_MS);
    return () => window.clearTimeout(timer);
  }, [isAsking]);
  return (
    <footer class="controls controls-locked">
      {!isAsking && (
        <Button onPress={() => setAsking(true)} sign={SIGN.locked} class="unlock">
          {UNLOCK.unlock}
        </Button>
      )}
      <p role="status">
        <b>{LOCK.locked}</b> <span>{isAsking ? UNLOCK.once : UNLOCK.only}</span>
      </p>
      {silence !== null && (
        <p class="lock-silence">
          <b>{silence.title}</b> {silence.detail}
        </p>
      )}
      {isAsking && (
        <div class="far-side" ref={second}>
          <Button onPress={onUnlock} look="solid" class="unlock">
            {UNLOCK.sure}
          </Button>
        </div>
      )}
    </footer>
  );
}
