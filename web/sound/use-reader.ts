/** Whether the sentence is read out. */
import { useLayoutEffect, useState } from 'preact/hooks';
import { reader } from './reader.ts';

export function useReader(): boolean {
  const [isOn, setOn] = useState(reader.isOn);
  useLayoutEffect(() => reader.subscribe(() => setOn(reader.isOn)), []);
  return isOn;
}
