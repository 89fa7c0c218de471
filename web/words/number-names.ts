/** What the numbers of a profile are called. */
import { inLanguage } from './language.ts';
import { phaseName } from './names.ts';

const NUMBER_NAME = inLanguage<Readonly<Record<string, string>>>({
  en: {
    bandC: 'band',
    ceilingC: 'ceiling',
    floorC: 'floor',
    holdS: 'hold',
    lostAboveC: 'temper lost',
    onLost: 'After temper is lost',
  },
});

/** What the number at a path of a profile is called: `phases.cool.bandC` is "Cool, band". A path nobody knows stands for itself. */
export function numberName(path: string): string {
  const [, phase, key] = /^phases\.([^.]+)\.(\w+)$/.exec(path) ?? [];
  if (phase === undefined || key === undefined) return NUMBER_NAME[path] ?? path;
  return `${phaseName(phase)}, ${NUMBER_NAME[key] ?? key}`;
}
