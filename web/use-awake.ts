/** Keeps the screen from going dark while a run is going, where the browser can; says where it can't. */
import { useEffect, useState } from 'preact/hooks';

/** asking: not known yet. */
export type Awake = 'asking' | 'kept' | 'not-kept';

/** A browser gives the lock up whenever the page is hidden; it is asked for again when it is seen. */
export function useAwake(isWanted: boolean): Awake {
  const [awake, setAwake] = useState<Awake>('asking');
  useEffect(() => {
    if (!isWanted) return undefined;
    let lock: WakeLockSentinel | null = null;
    let isOver = false;
    const ask = async (): Promise<void> => {
      if (document.visibilityState !== 'visible') return;
      try {
        // Absent where the page did not come over a secure line.
        const wakeLock = (navigator as { readonly wakeLock?: WakeLock }).wakeLock;
        lock = (await wakeLock?.request('screen')) ?? null;
        if (isOver) return void lock?.release();
        lock?.addEventListener('release', () => document.visibilityState === 'visible' && setAwake('not-kept'));
      } catch {
        lock = null;
      }
      if (!isOver) setAwake(lock === null ? 'not-kept' : 'kept');
    };
    void ask();
    const again = (): void => void ask();
    document.addEventListener('visibilitychange', again);
    return () => {
      isOver = true;
      document.removeEventListener('visibilitychange', again);
      void lock?.release();
    };
  }, [isWanted]);
  return awake;
}
