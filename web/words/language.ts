/**
 * The languages the page speaks. To add one, name it here: the compiler then lists every catalogue that lacks it. A catalogue is
 * `inLanguage({ en: …, … })`, of texts, of sentence functions, or of a whole module of them out of `en/`; which of them is spoken is
 * settled once, when the page is loaded.
 */
export const LANGUAGES = ['en'] as const;
export type Language = (typeof LANGUAGES)[number];

/** The first of the wanted ones that is spoken here, whatever its country; English where none is. */
export function languageFor(wanted: readonly string[]): Language {
  const names = wanted.map((tag) => tag.toLowerCase().split('-')[0]);
  return (
    LANGUAGES.find((language) => language === names.find((name) => LANGUAGES.some((each) => each === name))) ?? 'en'
  );
}

/** Where there is no browser there is no reader either. */
const wanted = typeof navigator === 'undefined' ? [] : (navigator.languages ?? []);

export const language: Language = languageFor(wanted);

/** What this catalogue says in the reader's language. */
export function inLanguage<Words>(each: Readonly<Record<Language, Words>>): Words {
  return each[language];
}
