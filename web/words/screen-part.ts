/** What the settings of this screen are called. */
import type { Look } from '../viewer.ts';
import type { Unit } from './manner.ts';
import { inLanguage } from './language.ts';

export const SCREEN_PART = inLanguage({
  en: {
    title: 'This screen',
    look: 'Colours',
    unit: 'Unit',
    far: 'Far view',
    done: 'It stays on',
  },
});

export const LOOK_NAMES = inLanguage<Readonly<Record<Look, string>>>({
  en: {
    auto: 'As the system',
    light: 'Light',
    dark: 'Dark',
    strong: 'Strong',
  },
});

export const UNIT_NAMES: Readonly<Record<Unit, string>> = { C: '°C', F: '°F' };
