/** The head of a run looked back at: moved by time while it plays, by keys, and by whatever the page lets one press. */
import { useEffect, useLayoutEffect, useRef, useState } from 'preact/hooks';
import { useCovered } from '../../controls/beneath.tsx';
import { playbackAct } from '../../playback-keys.ts';
import type { PlaybackAct } from '../../playback-keys.ts';
import * as playing from '../../playback.ts';
import type { Playback } from '../../playback.ts';
import type { OpenedRun } from '../../fetched.ts';
import { isForUs, keptKeys, watchFocus } from '../../key-presses.ts';

/** The head moves this often, ms. */
const FRAME_MS = 100;

export type ChangePlayback = (change: (now: Playback) => Playback) => void;

/** `moments` of the run's events, oldest first. */
export function usePlayback(
  run: OpenedRun,
  moments: readonly number[],
  onNote: () => void,
): readonly [Playback, ChangePlayback] {
  const [playback, change] = useState(() => playing.openPlayback(run));
  useEffect(() => change((now) => playing.renewed(now, run)), [run]);
  const isCovered = useCovered();
  usePacing(playback.isPlaying && !isCovered, change);
  usePlaybackKeys((act) => {
    if (act.kind === 'note') onNote();
    else change((now) => after(now, act, moments));
  }, isCovered);
  return [playback, change];
}

function after(now: Playback, act: Exclude<PlaybackAct, { kind: 'note' }>, moments: readonly number[]): Playback {
  switch (act.kind) {
    case 'play-or-stop':
      return now.isPlaying ? playing.stop(now) : playing.play(now);
    case 'slower':
      return playing.changeSpeed(now, -1);
    case 'faster':
      return playing.changeSpeed(now, 1);
    case 'move':
      return playing.moveTo(now, now.headMs + act.byMs);
    case 'event':
      return playing.toEvent(now, moments, act.by);
  }
}

function usePlaybackKeys(onAct: (act: PlaybackAct) => void, isCovered: boolean): void {
  const newest = useRef(onAct);
  newest.current = onAct;
  useLayoutEffect(() => {
    if (isCovered) return undefined;
    const press = (event: KeyboardEvent): void => {
      if (!isForUs(event, false)) return;
      const act = playbackAct(keptKeys(), event);
      // Only a head that is moved may be moved on by holding the key.
      if (act === null || (event.repeat && act.kind !== 'move')) return;
      event.preventDefault();
      newest.current(act);
    };
    watchFocus();
    window.addEventListener('keydown', press);
    return () => window.removeEventListener('keydown', press);
  }, [isCovered]);
}

function usePacing(isPlaying: boolean, change: ChangePlayback): void {
  useEffect(() => {
    if (!isPlaying) return undefined;
    let lastMs = performance.now();
    const timer = window.setInterval(() => {
      const nowMs = performance.now();
      const elapsedMs = nowMs - lastMs;
      lastMs = nowMs;
      change((now) => playing.advance(now, elapsedMs));
    }, FRAME_MS);
    return () => window.clearInterval(timer);
  }, [isPlaying, change]);
}
