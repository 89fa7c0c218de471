/** Shows nothing: keeps the screen from going dark, and tells where it can't. */
import { useEffect } from 'preact/hooks';
import { useAwake } from '../use-awake.ts';

export interface KeepAwakeProps {
  readonly isWanted: boolean;
  readonly onDark: (mayGoDark: boolean) => void;
}

export function KeepAwake({ isWanted, onDark }: KeepAwakeProps) {
  const awake = useAwake(isWanted);
  useEffect(() => onDark(awake === 'not-kept'), [awake]);
  return null;
}
