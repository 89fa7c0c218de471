/** In place of the controls while they are locked. A wet sleeve taps in one place: to unlock takes two, apart from each other. */
import { useEffect, useRef, useState } from 'preact/hooks';
import { LOCK } from '../words/hands.ts';
import { Button } from './button.tsx';

/** The second place waits this long, ms (ours: time to mean it, none for the next drop). */
const SECOND_WITHIN_MS = 4_000;

export function LockBar({ onUnlock }: { readonly onUnlock: () => void }) {
  const [isAsking, setAsking] = useState(false);
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
        <Button onPress={() => setAsking(true)} sign="locked" class="unlock">
          {LOCK.unlock}
        </Button>
      )}
      <p role="status">
        <b>{LOCK.locked}</b> <span>{isAsking ? LOCK.once : LOCK.only}</span>
      </p>
      {isAsking && (
        <div class="far-side" ref={second}>
          <Button onPress={onUnlock} look="solid" class="unlock">
            {LOCK.sure}
          </Button>
        </div>
      )}
    </footer>
  );
}
