/** Who shows a run hears of its changes, and of no other's. */
import { expect, test } from 'vitest';
import { onRunChanged, tellRunChanged } from '../../web/run-changed.ts';

test('a run’s page hears of that run, a list of all, and everybody when the line has been cut', () => {
  const heard: string[] = [];
  const stops = [
    onRunChanged('a', () => heard.push('a')),
    onRunChanged('b', () => heard.push('b')),
    onRunChanged(null, () => heard.push('all')),
  ];
  tellRunChanged('a');
  expect(heard.splice(0)).toEqual(['a', 'all']);
  tellRunChanged(null);
  expect(heard.splice(0)).toEqual(['a', 'b', 'all']);
  for (const stop of stops) stop();
  tellRunChanged(null);
  expect(heard).toEqual([]);
});
