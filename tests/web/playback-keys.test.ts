/** Keys of playback: the same for everybody, and what a viewer has taught comes first. */
import { describe, expect, test } from 'vitest';
import { USUAL_KEYS } from '../../web/keys.ts';
import { taught } from '../../web/taught-keys.ts';
import { playbackAct } from '../../web/playback-keys.ts';

const press = (key: string, shiftKey = false) => ({ key, shiftKey });

describe('keys on a run looked back at', () => {
  test.each([
    [press(' '), { kind: 'play-or-stop' }],
    [press('ArrowLeft'), { kind: 'move', byMs: -10_000 }],
    [press('ArrowRight'), { kind: 'move', byMs: 10_000 }],
    [press('ArrowLeft', true), { kind: 'event', by: -1 }],
    [press('ArrowRight', true), { kind: 'event', by: 1 }],
    [press('+', true), { kind: 'faster' }],
    [press('-'), { kind: 'slower' }],
    [press('n'), { kind: 'note' }],
  ])('%j', (pressed, act) => {
    expect(playbackAct(USUAL_KEYS, pressed)).toEqual(act);
  });

  test.each([['l'], ['m'], ['ArrowUp'], ['ArrowDown'], ['PageDown'], ['x'], ['toString']])(
    '%s is left to the browser',
    (key) => {
      expect(playbackAct(USUAL_KEYS, press(key))).toBeNull();
    },
  );

  test('a pedal does here what it was taught to do, and nothing where there is no such thing', () => {
    const keys = taught(taught(taught(USUAL_KEYS, 'note', 'PageDown'), 'next', 'b'), 'lock', 'ArrowLeft');
    expect(playbackAct(keys, press('PageDown'))).toEqual({ kind: 'note' });
    expect(playbackAct(keys, press('B'))).toEqual({ kind: 'event', by: 1 });
    expect(playbackAct(keys, press('ArrowLeft'))).toBeNull();
    expect(playbackAct(keys, press('ArrowRight'))).toEqual({ kind: 'move', byMs: 10_000 });
  });
});
