/** Whether the sentence is read out. */
import { useEffect, useState } from 'preact/hooks';
import { reader } from './reader.ts';

export function useReader(): boolean {
  const [isOn, setOn] = useState(reader.isOn);
  useEffect(() => reader.subscribe(() => setOn(reader.isOn)), []);
  return isOn;
}
