/** What the window is called. */
import { inLanguage } from './language.ts';

/** Each place beside the bowl, by its part of the address. */
export const PLACE_TITLE = inLanguage<Readonly<Record<string, string>>>({
  en: {
    runs: 'Runs',
    'runs/': 'A run',
    'compare/': 'Runs compared',
    bin: 'Bin',
    'hand-over/': 'Hand over',
    'bring-in': 'Bring in a file',
    'judged/': 'Judged again',
    bench: 'Bowls and thermometers',
    kept: 'What is kept',
    profiles: 'Profiles',
    'profiles/': 'A profile',
    bag: 'Numbers from the bag',
    check: 'Check the thermometer',
    thermometer: 'Thermometer',
    heard: 'What the thermometer says',
    screens: 'Other screens',
  },
});

/** The bowl alone has the name of the program. */
export const titled = inLanguage({
  en: (place: string | undefined) => (place === undefined ? 'Bowlside' : `${place}, Bowlside`),
});
