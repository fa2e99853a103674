/** The languages there are, and their catalogues. */
import english from "./en/index.ts";

export const LANGUAGES = ["en", "de", "fr"] as const;
export type Language = (typeof LANGUAGES)[number];

/** Each language by its own name. */
export const LANGUAGE_NAMES: Readonly<Record<Language, string>> = {
  en: "English",
  de: "Deutsch",
  fr: "Français",
};

/** Names a message in every catalogue. */
export type Key = keyof typeof english;
/** Messages by key, in ICU MessageFormat. */
export type Catalogue = Readonly<Record<Key, string>>;

export const ENGLISH: Catalogue = english;

/** The region whose marks a language's numbers and dates have where nothing is known of the person's own. */
const LOCALE: Readonly<Record<Language, string>> = { en: "en-GB", de: "de-DE", fr: "fr-FR" };

/** English comes with the program; another language when it is first asked for. */
export async function catalogueOf(language: Language): Promise<Catalogue> {
  switch (language) {
    case "en":
      return ENGLISH;
    case "de":
      return (await import("./de/index.ts")).default;
    case "fr":
      return (await import("./fr/index.ts")).default;
  }
}

/**
 * The locale for numbers and dates: the first of the person's own that is of the language, so that Swiss or Austrian marks
 * stay theirs.
 * @param preferred BCP 47 tags, the first preferred most
 */
export function localeOf(language: Language, preferred: readonly string[] = []): string {
  return preferred.find((tag) => tag.split("-")[0]?.toLowerCase() === language) ?? LOCALE[language];
}

/** The first of a person's own languages that there is a catalogue for; English where there is none. */
export function languageFor(preferred: readonly string[]): Language {
  for (const tag of preferred) {
    const known = LANGUAGES.find((language) => language === tag.split("-")[0]?.toLowerCase());
    if (known !== undefined) return known;
  }
  return "en";
}
